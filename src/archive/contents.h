#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "archive/index.h"

namespace ohmleaf::archive {

/// What a writing command wants to know of what is filed. An empty text asks nothing. (Whether
/// there is a certificate of some number is for its folder to say.)
struct Question {
  std::string job_id;  ///< the first object (by its id) that was issued for that job
  std::string prefix;  ///< the numbers under it, upper or lower case
};

/// What is filed, as a writing command finds it under the lock: asked of the search index where one
/// is kept, else of the records. An answer of the index lacks salt, files and facts.
struct Contents {
  std::optional<Latest> newest;  ///< the record last in the chain
  std::optional<Latest> of_job;
  Series series;
  std::vector<Problem> problems;  ///< what could not be read
  std::unique_ptr<Index> index;
};

/// What the index says, where a look at every object would find nothing new: no unfinished work,
/// the root unchanged, and the last such look only just done. Nothing otherwise.
std::optional<Contents> known_contents(const Store& store, const Question& question);
/// Looks at every object; makes an index where it begins to pay. Call after the recovery.
Contents look_at_contents(const Store& store, const Question& question);
/// The same without an index: reads every record, and throws an index away.
Contents read_contents(const Store& store, const Question& question);

/// To be asked just before filing: whether nobody else filed meanwhile, so that `enter_in_index`
/// need not look at every object.
bool nobody_else_filed(const Contents& contents, const Store& store);
/// Brings the index up to an object that was filed, or throws it away. `fresh` says that the object
/// is new. False only where a wrong index may be left: then the next command must be made to look
/// at every object.
bool enter_in_index(Contents& contents, const Store& store, const std::string& id, bool fresh,
                    bool was_alone);

}  // namespace ohmleaf::archive
