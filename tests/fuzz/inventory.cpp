// What an archive is read from: inventories, records, manifests of packages. Which reader gets the
// bytes is in the first one.
#include "archive/bag.h"
#include "archive/issue_record.h"
#include "archive/ocfl.h"
#include "fuzz/target.h"

using namespace ohmleaf::archive;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view bytes = fuzz::text_of(data + 1, size - 1);
  if (data[0] % 3 == 0) {
    ocfl::Findings found;
    const auto inventory = ocfl::parse(bytes, "inventory.json", found);
    fuzz::promise(inventory.has_value() || !found.empty(),
                  "an inventory is read, or there is a finding");
    if (!inventory || !found.empty()) return 0;
    const std::string written = ocfl::encode(*inventory);
    const auto again = ocfl::parse(written, "inventory.json", found);
    fuzz::promise(again && found.empty(), "an inventory that is sound is sound written anew");
    fuzz::promise(ocfl::encode(*again) == written, "an inventory written anew stays as it is");
  } else if (data[0] % 3 == 1) {
    std::string why;
    const auto record = parse_record(bytes, why);
    fuzz::promise(record.has_value() || !why.empty(), "a record is read, or there is a reason");
    if (!record) return 0;
    const std::string written = encode(*record);
    const auto again = parse_record(written, why);
    fuzz::promise(again && encode(*again) == written, "a record written anew stays as it is");
  } else if (const auto lines = parse_manifest(bytes)) {
    for (const ManifestLine& line : *lines)
      fuzz::promise(!line.name.empty() && is_hex(line.digest, line.digest.size()),
                    "a manifest's line is a digest and a name");
  }
  return 0;
}
