#include <algorithm>
#include <array>

#include "layout/model_rows.h"
#include "record/read.h"

// Instruments and the inspection checklist.

namespace ohmleaf::layout::model {
namespace {

struct Item {
  record::InspectionText text;
  const record::InspectionItem* record;  ///< null where the job says nothing of it
};

std::string_view outcome(const Item& i) {
  if (!i.record) return "not recorded";
  if (!i.record->limitation.empty()) return "limitation";
  if (!i.record->not_applicable.empty()) return "not applicable";
  if (!i.record->done) return "not recorded";
  return *i.record->done ? "in order" : "not in order";
}

View reason(const Item& i) {
  if (!i.record) return {};
  return text_view(i.record->limitation.empty() ? i.record->not_applicable : i.record->limitation);
}

const std::array kItem{
    Row<Item>{"key", Type::own, "the item's key in the job file",
              [](const Item& i, const Context&) { return View::of_text(std::string(i.text.key)); }},
    Row<Item>{
        "words", Type::text, "what is inspected",
        [](const Item& i, const Context&) { return View::of_text(std::string(i.text.words)); }},
    Row<Item>{"outcome", Type::text,
              "in order, not in order, not applicable, limitation, not recorded",
              [](const Item& i, const Context&) { return View::of_text(std::string(outcome(i))); }},
    Row<Item>{"reason", Type::own, "why it does not apply, or what limited it",
              [](const Item& i, const Context&) { return reason(i); }},
};

/// The instruments that the job names, or all of the installer's.
std::vector<const record::Instrument*> used(const Context& x) {
  std::vector<const record::Instrument*> out;
  for (const record::Text& key : x.job.instruments)
    if (key)
      if (const record::Instrument* i = x.installer.instrument(*key)) out.push_back(i);
  if (x.job.instruments.empty())
    for (const record::Instrument& i : x.installer.instruments) out.push_back(&i);
  return out;
}

std::string make_words(const record::Instrument& i) {
  std::string out = i.make.value_or("");
  if (i.model) out += (out.empty() ? "" : " ") + *i.model;
  return out;
}

/// "Zs ± (5 % + 0.04 Ω); MΩ ± 10 %": by symbols, which every language has.
std::string uncertainty_words(const record::Instrument& i) {
  std::string out;
  const auto add = [&](std::string_view of, const record::Field<Percent>& percent, const record::Field<Ohms>& ohms) {
    if (!percent && !ohms) return;
    std::string spread = percent ? percent->with_unit() : "";
    if (ohms) spread += (percent ? " + " : "") + ohms->with_unit();
    out += (out.empty() ? "" : "; ") + std::string(of) + " ± " + (percent && ohms ? "(" + spread + ")" : spread);
  };
  add("R1+R2", i.continuity_percent, i.continuity_ohms);
  add("MΩ", i.insulation_percent, {});
  add("Zs", i.loop_percent, i.loop_ohms);
  add("RCD", i.rcd_percent, {});
  return out;
}

#define GET(expression) \
  [](const record::Instrument& i, const Context&) -> View { return expression; }
using I = Row<record::Instrument>;
const std::array kInstrument{
    I{"kind", Type::text, "what it is", GET(text_view(i.kind))},
    I{"make", Type::own, "make and model", GET(text_view(make_words(i)))},
    I{"serial", Type::own, "serial number", GET(text_view(i.serial))},
    I{"calibrated", Type::date, "last calibrated", GET(date_view(i.calibrated))},
    I{"calibration_due", Type::date, "calibration due", GET(date_view(i.calibration_due))},
    I{"uncertainty", Type::own, "declared operating uncertainty, by what is read",
      GET(text_view(uncertainty_words(i)))},
};
#undef GET

}  // namespace

std::string instrument_words(const record::Instrument& i) {
  std::string out = i.kind.value_or(i.id);
  const std::string make = make_words(i);
  if (!make.empty()) out += ", " + make;
  if (i.serial) out += ", " + *i.serial;
  return out;
}

View instruments_view(const Context& x) {
  View out = View::list();
  for (const record::Instrument* i : used(x))
    out.items.push_back(view_from<record::Instrument>(kInstrument, *i, x));
  return out;
}
std::vector<Shape> instrument_members() {
  return shapes_from<record::Instrument>(kInstrument);
}

View inspection_view(const Context& x, bool all) {
  View out = View::list();
  for (const record::InspectionText& text : record::inspection_items()) {
    const auto& items = x.job.inspection;
    const auto it =
        std::find_if(items.begin(), items.end(), [&](const auto& i) { return i.key == text.key; });
    const Item item{text, it == items.end() ? nullptr : &*it};
    if (all || item.record) out.items.push_back(view_from<Item>(kItem, item, x));
  }
  return out;
}
std::vector<Shape> inspection_members() {
  return shapes_from<Item>(kItem);
}

}  // namespace ohmleaf::layout::model
