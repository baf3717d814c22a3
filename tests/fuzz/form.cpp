// Forms, themes and words files: which reader gets the bytes is in the first one.
#include "layout/form.h"

#include "fuzz/target.h"
#include "layout/theme.h"
#include "layout/translation.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("own.toml", std::string(fuzz::text_of(data + 1, size - 1)));
  bool read = false;
  switch (data[0] % 3) {
    case 0:
      read = layout::load_form(sources, id, found).has_value();
      break;
    case 1:
      read = layout::load_theme(sources, id, found).has_value();
      break;
    default:
      read = layout::load_translation(sources, id, found).has_value();
      break;
  }
  fuzz::promise(read == found.ok(), "a file is read, or there is an error");
  fuzz::hold(found, sources);
  return 0;
}
