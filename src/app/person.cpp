#include "app/person.h"

#include "base/files.h"
#include "base/text.h"
#include "base/toml.h"
#include "record/read.h"

namespace ohmleaf::app {

std::optional<record::Installer> load_installer(const Places& places, Sources& sources,
                                                Diagnostics& out) {
  const auto path = installer_path(places, out);
  auto bytes = path ? read_file(*path, kTomlMaxBytes, out) : std::nullopt;
  if (!bytes) return std::nullopt;
  return record::read_installer(sources, sources.add(path->string(), std::move(*bytes)), out);
}

std::optional<std::string> person_in_charge(const Places& places, const std::string& key,
                                            Sources& sources, Diagnostics& out) {
  const auto installer = load_installer(places, sources, out);
  if (!installer) return std::nullopt;
  const auto& people = installer->people;
  const record::Person* person = installer->person(key);
  if (key.empty() && people.size() == 1) person = &people.front();
  if (person != nullptr) return person->name.value_or(person->id);
  std::vector<std::string> keys;
  for (const auto& p : people) keys.push_back(p.id);
  out.error("unknown-person", {},
            key.empty() ? std::string("it is not said who does this")
                        : "there is no person \"" + visible(key) + "\" in installer.toml",
            {"Say --by with one of: " + join(keys, ", ") + "."});
  return std::nullopt;
}

}  // namespace ohmleaf::app
