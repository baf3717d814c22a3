#pragma once
#include <string>
#include <string_view>

#include "base/toml.h"

namespace ohmleaf::app {

/// Text as a TOML string on one line.
std::string toml_text(std::string_view text);
/// A key, in quotation marks where it needs them.
std::string toml_key(std::string_view key);
/// One value on one line; numbers, dates and flags as they were written.
std::string toml_value(const TomlNode& node);
/// A whole document written anew: every table under its own header, no comment, no blank line that
/// was there. Reads as the same tree.
std::string toml_document(const TomlNode& root);

}  // namespace ohmleaf::app
