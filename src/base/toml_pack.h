#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/toml.h"

namespace ohmleaf {

/// A tree in few bytes, quickly made again: what the program ships is parsed when it is built, since
/// to parse the forms of a document takes as long as to lay it out.
std::string pack_toml(const TomlNode& root);

/// The tree again, its places in `source`. Nothing where the bytes are no packed tree.
std::optional<TomlNode> unpack_toml(std::string_view packed, SourceId source);

}  // namespace ohmleaf
