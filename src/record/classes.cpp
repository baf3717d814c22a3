#include "record/classes.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "record/words.h"

namespace ohmleaf::record {
namespace {

Flag yes() {
  Flag out;
  out.value = true;
  return out;
}

const AccessoryClass* find(const std::vector<AccessoryClass>& all, std::string_view id) {
  const auto it =
      std::find_if(all.begin(), all.end(), [&](const AccessoryClass& c) { return c.id == id; });
  return it == all.end() ? nullptr : &*it;
}

using Common = Flag AccessoryClass::*;
using Own = Flag CatalogueItem::*;
constexpr std::pair<Common, Own> kFacts[] = {
    {&AccessoryClass::needs_neutral, &CatalogueItem::needs_neutral},
    {&AccessoryClass::needs_earth, &CatalogueItem::needs_earth},
    {&AccessoryClass::radio, &CatalogueItem::radio},
    {&AccessoryClass::needs_bypass, &CatalogueItem::needs_bypass},
    {&AccessoryClass::dims, &CatalogueItem::dims},
    {&AccessoryClass::electronics, &CatalogueItem::electronics},
};

void inherit(CatalogueItem& item, const AccessoryClass& from) {
  for (const auto& [common, own] : kFacts)
    if (!(item.*own) && from.*common) item.*own = from.*common;
}

}  // namespace

const std::vector<AccessoryClass>& known_classes() {
  static const std::vector<AccessoryClass> all = [] {
    std::vector<AccessoryClass> out;
    for (const std::string_view word : kAccessoryWords) {
      AccessoryClass c;
      c.id = std::string(word);
      if (word == "socket-outlet") c.needs_earth = yes();
      if (word == "dimmer") c.dims = yes();
      if (word == "dimmer" || word == "hub" || word == "blind control" || word == "module")
        c.electronics = yes();
      if (word == "hub" || word == "blind control" || word == "module") c.needs_neutral = yes();
      if (word == "battery control" || word == "hub") c.radio = yes();
      out.push_back(std::move(c));
    }
    return out;
  }();
  return all;
}

void settle_classes(Installer& installer, Diagnostics& out) {
  for (const AccessoryClass& c : installer.classes)
    if (find(known_classes(), c.id))
      out.error("known-class", c.span,
                fmt::format("the program knows the class \"{}\" already", visible(c.id)),
                {"Give your own class another name, and write like = \"" + visible(c.id) + "\"."});
  for (CatalogueItem& item : installer.catalogue) {
    if (!item.item_class) continue;  // a missing key, said elsewhere
    const AccessoryClass* own = find(installer.classes, *item.item_class);
    const std::string_view like =
        own && own->like ? std::string_view(*own->like) : std::string_view(*item.item_class);
    const AccessoryClass* known = find(known_classes(), like);
    if (own) inherit(item, *own);
    if (known) inherit(item, *known);
    item.kind = known ? known->id : "other";
    if (own || known) continue;
    std::vector<std::string_view> words(kAccessoryWords.begin(), kAccessoryWords.end());
    for (const AccessoryClass& c : installer.classes) words.push_back(c.id);
    Diagnostic& d = out.error(
        "unknown-class", item.item_class.span,
        fmt::format("there is no class of accessories \"{}\"", visible(*item.item_class)));
    if (const auto near = nearest(*item.item_class, words))
      d.hints.push_back(fmt::format("Did you mean \"{}\"?", *near));
    d.hints.push_back(fmt::format(
        "To add it, write [class.{}] into installer.toml, with like = one of: {}.",
        visible(*item.item_class), join({kAccessoryWords.begin(), kAccessoryWords.end()}, ", ")));
  }
}

}  // namespace ohmleaf::record
