// Any bytes as a TOML file: fenced, parsed, and mended where a slip stands in one line.
#include "base/toml.h"

#include "fuzz/target.h"

using namespace ohmleaf;

namespace {
void hold(const TomlNode& node, const SourceText& source) {
  fuzz::promise(node.span.end <= source.text().size(), "a value stands in its file");
  fuzz::promise(node.key_span.end <= source.text().size(), "a key stands in its file");
  for (const TomlNode& child : node.children) hold(child, source);
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  const SourceId id = sources.add("job.toml", std::string(fuzz::text_of(data, size)));
  Diagnostics strict, mending;
  const auto tree = parse_toml(sources, id, strict);
  fuzz::promise(tree.has_value() == strict.ok(), "a file is read, or there is an error");
  if (tree) hold(*tree, sources.get(id));
  fuzz::hold(strict, sources);
  const auto mended = parse_toml_mending(sources, id, mending);
  fuzz::promise(mended.has_value() || !mending.ok(), "a file is read, or there is an error");
  fuzz::promise(!tree || mending.ok(), "a sound file needs no mending");
  fuzz::promise(tree || !mending.ok(), "mending hides no error");
  if (mended) hold(*mended, sources.get(id));
  fuzz::hold(mending, sources);
  return 0;
}
