#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/toml_outline.h"

// One value of a TOML file changed or added in the writer's own text: his comments, his order and
// every byte elsewhere stay as they are.

namespace ohmleaf {

/// The keys of a table in the order in which they are usually written, where it is known.
using TomlOrder = std::function<std::vector<std::string>(const TomlPath& table)>;

/// The text in which `path` has this value (TOML, one line). In this order:
/// - a value that stands there is replaced;
/// - a table in braces gets one key more;
/// - a blank that waits for it ("# zs =   # Ω", in the table's own lines) is filled in, and what is
///   said behind it stays;
/// - else a line is added behind the last one of its table, and a table that is not there yet gets
///   its header where the order of keys puts it (below a list's element or the top of the file), or
///   braces (further down).
/// Nothing where the text could not be read, where the path leads through something that is no
/// table, or where the result, read again, would differ by anything else than that one value: an
/// element that a list does not have, a value that is none.
std::optional<std::string> edit_toml(const std::string& text, const TomlPath& path,
                                     std::string_view value, const TomlOrder& order = {});

}  // namespace ohmleaf
