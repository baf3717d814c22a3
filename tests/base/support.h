#pragma once
#include <doctest/doctest.h>

#include <string>

#include "base/diagnostic.h"
#include "base/source.h"
#include "base/toml.h"

namespace ohmleaf {

struct Parsed {
  Sources sources;
  Diagnostics out;
  std::optional<TomlNode> root;

  /// "1:5 id: message" of every message, one a line.
  std::string all() const {
    std::string text;
    for (const Diagnostic& d : out.all()) {
      const LineColumn at = sources.get(1).line_column(d.span.begin);
      if (!text.empty()) text += '\n';
      text +=
          std::to_string(at.line) + ":" + std::to_string(at.column) + " " + d.id + ": " + d.message;
    }
    return text;
  }
  std::string hint() const {
    return out.empty() || out.all()[0].hints.empty() ? "" : out.all()[0].hints[0];
  }
  std::string slice(const TomlNode* node) const {
    return node == nullptr ? "(none)" : std::string(sources.slice(node->span));
  }
};

inline Parsed parse(const std::string& text) {
  Parsed p;
  const SourceId id = p.sources.add("x.toml", text);
  p.root = parse_toml(p.sources, id, p.out);
  return p;
}

inline Parsed parse_mending(const std::string& text) {
  Parsed p;
  const SourceId id = p.sources.add("x.toml", text);
  p.root = parse_toml_mending(p.sources, id, p.out);
  return p;
}

}  // namespace ohmleaf
