#include "app/toml_write.h"

#include <algorithm>

namespace ohmleaf::app {
namespace {

bool bare(std::string_view key) {
  return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
}

bool array_of_tables(const TomlNode& node) {
  return node.is_array() && !node.children.empty() &&
         std::all_of(node.children.begin(), node.children.end(),
                     [](const TomlNode& n) { return n.is_table(); });
}

void write_table(std::string& out, const std::string& path, const TomlNode& table) {
  for (const TomlNode& child : table.children)
    if (!child.is_table() && !array_of_tables(child))
      out += toml_key(child.key) + " = " + toml_value(child) + "\n";
  for (const TomlNode& child : table.children) {
    const std::string name = (path.empty() ? "" : path + ".") + toml_key(child.key);
    if (child.is_table()) {
      out += "\n[" + name + "]\n";
      write_table(out, name, child);
    } else if (array_of_tables(child)) {
      for (const TomlNode& one : child.children) {
        out += "\n[[" + name + "]]\n";
        write_table(out, name, one);
      }
    }
  }
}

}  // namespace

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    switch (c) {
      case '"':
        out += "\\\"";
        break;
      case '\\':
        out += "\\\\";
        break;
      case '\n':
        out += "\\n";
        break;
      case '\t':
        out += "\\t";
        break;
      case '\r':
        out += "\\r";
        break;
      default:
        out += c;
    }
  }
  return out + "\"";
}

std::string toml_key(std::string_view key) {
  return bare(key) ? std::string(key) : toml_text(key);
}

std::string toml_value(const TomlNode& node) {
  if (node.kind == TomlKind::string) return toml_text(node.text);
  if (!node.is_array() && !node.is_table()) return node.text;
  std::string out = node.is_array() ? "[" : "{";
  for (std::size_t i = 0; i < node.children.size(); ++i) {
    if (i > 0) out += ",";
    out += " ";
    if (node.is_table()) out += toml_key(node.children[i].key) + " = ";
    out += toml_value(node.children[i]);
  }
  return out + (node.children.empty() ? "" : " ") + (node.is_array() ? "]" : "}");
}

std::string toml_document(const TomlNode& root) {
  std::string out;
  write_table(out, "", root);
  return out;
}

}  // namespace ohmleaf::app
