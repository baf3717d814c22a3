// The installer's profile.
#include "fuzz/target.h"
#include "record/read.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("installer.toml", std::string(fuzz::text_of(data, size)));
  const auto installer = record::read_installer(sources, id, found);
  fuzz::promise(installer.has_value() == found.ok(), "a profile is read, or there is an error");
  if (installer) record::view_of(*installer);
  fuzz::hold(found, sources);
  return 0;
}
