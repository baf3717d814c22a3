#include "archive/chain.h"

#include <algorithm>
#include <map>
#include <set>

#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr const char* kFromCopy = "put the file back from a copy of the archive made earlier";

void check_first(const Link& first, std::vector<Problem>& problems) {
  if (first.record.sequence == 1 && first.record.previous != no_previous()) {
    problems.push_back({Damage::chain_broken, first.record.number, first.file(),
                        "the first record names one before it", kFromCopy});
  }
}

void check_pair(const Link& before, const Link& link, std::vector<Problem>& problems) {
  const std::int64_t step = link.record.sequence - before.record.sequence;
  if (step == 0) {
    problems.push_back({Damage::chain_broken, link.record.number, link.file(),
                        link.name() + " has the same place in the chain as " + before.name(),
                        "two programs wrote without seeing each other: keep both, and ask which "
                        "certificate the client was given"});
  } else if (step > 1) {
    problems.push_back(
        {Damage::missing, "", "",
         "between " + before.name() + " and " + link.name() + " " +
             (step == 2 ? "a record is" : std::to_string(step - 1) + " records are") +
             " missing in the chain",
         "put the missing folders back from a copy of the archive"});
  } else if (link.record.previous != before.digest) {
    problems.push_back({Damage::chain_broken, before.record.number, before.file(),
                        "the record of " + before.name() + " is not the one after which " +
                            link.name() + " was issued",
                        kFromCopy});
  }
}

void check_numbers(const std::vector<Link>& links, std::vector<Problem>& problems) {
  std::map<std::string, std::map<std::int64_t, std::string>> by_prefix;
  for (const Link& link : links) {
    const std::optional<NumberParts> parts = parse_number(link.record.number);
    if (parts) by_prefix[ascii_lower(parts->prefix)][parts->sequence] = parts->prefix;
  }
  for (const auto& [prefix, numbers] : by_prefix) {
    std::int64_t expected = 1;
    for (const auto& [sequence, written] : numbers) {
      // A range, not one problem a number: a hostile number may be a billion away.
      if (sequence != expected) {
        const std::string last = make_number(written, sequence - 1);
        const std::string first = make_number(written, expected);
        problems.push_back(
            {Damage::missing, first, ascii_lower(first),
             first == last ? first + " is missing" : first + " to " + last + " are missing",
             "put the missing folders back from a copy of the archive"});
      }
      expected = sequence + 1;
    }
  }
}

void check_order_in_objects(const std::vector<Link>& links, std::vector<Problem>& problems) {
  std::map<std::string, const Link*> last;
  for (const Link& link : links) {
    if (link.removed) continue;
    const Link*& before = last[link.id];
    const bool first_kind = (link.record.kind == RecordKind::issue && link.record.revision == 1) ||
                            link.record.kind == RecordKind::expiry;
    const bool fits = before ? link.version == before->version + 1 &&
                                   link.record.job_id == before->record.job_id &&
                                   link.record.number == before->record.number && !first_kind
                             : link.version == 1 && first_kind;
    if (!fits) {
      problems.push_back({Damage::chain_broken, link.record.number, link.file(),
                          "the record of " + link.name() + " does not follow the one before it",
                          kFromCopy});
    }
    before = &link;
  }
}

/// The file that the client holds, and what is embedded in it, is what was filed.
bool holds_files(const Store& store, const Link& link, const Witness& witness) {
  if (link.removed) return true;  // on purpose: nothing is left to compare with
  std::set<std::string> filed;
  FsError error;
  for (const KeyedDigest& file : link.record.files) {
    const auto bytes = read_beneath(
        store.root_fd.get(), content_path(link.id, link.version, file.name), kMaxContent, error);
    if (bytes) filed.insert(sha512_hex(*bytes));
  }
  if (!witness.file_sha512.empty() && !filed.contains(ascii_lower(witness.file_sha512))) {
    return false;
  }
  return std::all_of(witness.embedded_sha512.begin(), witness.embedded_sha512.end(),
                     [&](const std::string& d) { return filed.contains(ascii_lower(d)); });
}

/// Everything before `link` is linked without a gap, and ends with what `link` names.
bool holds_up_to(const std::vector<Link>& links, const Link& link) {
  std::string previous = no_previous();
  std::int64_t sequence = 1;
  for (const Link& l : links) {
    if (l.record.sequence != sequence || l.record.previous != previous) return false;
    if (&l == &link) return true;
    previous = l.digest;
    ++sequence;
  }
  return false;
}

}  // namespace

void add_removed(const Link& expiry, std::vector<Link>& links) {
  for (const Passed& p : expiry.record.removed) {
    Link link{expiry.id, p.version, p.digest, {}, true};
    link.record.kind = p.kind;
    link.record.number = expiry.record.number;
    link.record.revision = p.revision;
    link.record.sequence = p.sequence;
    link.record.previous = p.previous;
    link.record.issued = p.issued;
    if (p.sequence == 1) link.record.root_files = expiry.record.root_files;
    links.push_back(std::move(link));
  }
}

std::string Link::name() const {
  if (record.kind == RecordKind::expiry) return "the removal of " + record.number;
  if (record.kind == RecordKind::withdrawal) return "the withdrawal of " + record.number;
  if (record.kind == RecordKind::timestamp) return "the time-stamp of " + record.number;
  if (record.revision == 1) return record.number;
  return record.number + " revision " + std::to_string(record.revision);
}

void check_chain(std::vector<Link>& links, std::vector<Problem>& problems) {
  std::sort(links.begin(), links.end(), [](const Link& a, const Link& b) {
    return std::tie(a.record.sequence, a.id, a.version) <
           std::tie(b.record.sequence, b.id, b.version);
  });
  if (links.empty()) return;
  check_first(links.front(), problems);
  if (links.front().record.sequence != 1) {
    problems.push_back({Damage::missing, "", "", "the chain does not begin with its first record",
                        "put the missing folders back from a copy of the archive"});
  }
  for (std::size_t i = 1; i < links.size(); ++i) check_pair(links[i - 1], links[i], problems);
  check_numbers(links, problems);
  check_order_in_objects(links, problems);
}

bool check_witness(const Store& store, const std::vector<Link>& links, const Witness& witness,
                   std::vector<Problem>& problems) {
  const std::string head = ascii_lower(witness.head);
  const std::string number = ascii_lower(witness.number);
  const std::string remedy =
      "the certificate that the client holds is the one to believe: look for a copy of the "
      "archive made before the change";
  const auto broken = [&](const std::string& file, std::string what) {
    problems.push_back({Damage::chain_broken, witness.number, file, std::move(what), remedy});
    return false;
  };
  std::vector<const Link*> matches;
  bool known = false;
  for (const Link& link : links) {
    if (link.id != number || link.record.kind == RecordKind::withdrawal ||
        link.record.kind == RecordKind::expiry || link.record.kind == RecordKind::timestamp) {
      continue;
    }
    known = true;
    if (link.record.previous.starts_with(head)) matches.push_back(&link);
  }
  if (!known) {
    return broken("", "the witness " + witness.number +
                          " is not in the archive: it, or the whole "
                          "archive, was put back to an earlier state");
  }
  if (matches.empty()) {
    return broken(number, "the witness " + witness.number +
                              " prints another head than its record here: what was filed before "
                              "it was changed");
  }
  const Link& link = *matches.front();
  if (!holds_up_to(links, link)) {
    return broken(link.file(), "the records before " + link.name() +
                                   " are not those that the witness vouches for");
  }
  if (std::none_of(matches.begin(), matches.end(),
                   [&](const Link* m) { return holds_files(store, *m, witness); })) {
    return broken(link.file(),
                  "the witness, or a file embedded in it, is not what is filed as " + link.name());
  }
  return true;
}

}  // namespace ohmleaf::archive
