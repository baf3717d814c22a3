#pragma once
#include <optional>
#include <string>
#include <vector>

#include "archive/store.h"

namespace ohmleaf::archive {

/// One record's place in the archive's chain.
struct Link {
  std::string id;
  int version = 1;
  std::string digest;
  IssueRecord record;
  bool removed = false;  ///< known only from the expiry that stands in its place

  std::string file() const { return content_path(id, removed ? 1 : version, kRecordFile); }
  /// "SP-0007", "SP-0007 revision 2", "the withdrawal of SP-0007"
  std::string name() const;
};

/// Adds what an expiry says of the records that it stands for.
void add_removed(const Link& expiry, std::vector<Link>& links);

/// Sorts `links` by place and reports every gap, fork and broken digest, and gaps in the numbers.
void check_chain(std::vector<Link>& links, std::vector<Problem>& problems);

/// Compares what a certificate outside the archive says with the (sorted) chain. True only if the
/// record before it, and with it all earlier ones, are those that were there when it was issued.
bool check_witness(const Store& store, const std::vector<Link>& links, const Witness& witness,
                   std::vector<Problem>& problems);

}  // namespace ohmleaf::archive
