#include <memory>

#include "base/json.h"
#include "base/text.h"
#include "checks/needs.h"
#include "cli/command.h"
#include "cli/csv_report.h"
#include "record/words.h"

// `ohmleaf needs`: which readings a circuit needs, in which order, to which limit, and why.

namespace ohmleaf::cli {
namespace {

struct NeedsOptions {
  Common common;
  std::string type = "ring final", device, rcd, earthing = "TN-C-S", date;
  std::vector<std::string> feeds, places;
  bool is_new = false, three_phase = false;
};

std::string usual_device(std::string_view type) {
  if (type == "distribution") return "BS 88-2 63 A, 80 kA";
  return type == "radial" ? "RCBO B20, 30 mA type A, 6 kA" : "RCBO B32, 30 mA type A, 6 kA";
}

std::optional<limits::Device> device_of(const std::string& option, const std::string& text,
                                        Diagnostics& out) {
  limits::DeviceFault fault;
  auto device = limits::parse_device(to_nfc(text), fault);
  if (!device) out.error("wrong-device", {}, option + ": " + fault.message, {fault.hint});
  return device;
}

/// "ring" for "ring final", as people say it.
std::optional<record::CircuitType> type_of(const std::string& text, Diagnostics& out) {
  const std::string wanted = ascii_lower(trim(text));
  const auto words = record::Words<record::CircuitType>::all();
  for (const std::string_view w : words)
    if (w == wanted || (wanted.size() > 2 && w.starts_with(wanted)))
      return record::Words<record::CircuitType>::from(w);
  out.error("unknown-word", {}, "\"" + visible(text) + "\" is no kind of circuit known here",
            {"Known are " + join({words.begin(), words.end()}, ", ") + "."});
  return std::nullopt;
}

std::optional<checks::CircuitAsked> asked_of(const NeedsOptions& o, Diagnostics& out) {
  checks::CircuitAsked asked;
  if (const auto type = type_of(o.type, out)) asked.type = *type;
  const std::string device = o.device.empty() ? usual_device(record::name(asked.type)) : o.device;
  if (const auto d = device_of("--device", device, out)) asked.device = *d;
  if (!o.rcd.empty()) asked.rcd = device_of("--rcd", o.rcd, out);
  if (const auto e = limits::earthing_from_name(o.earthing))
    asked.earthing = *e;
  else
    out.error("unknown-word", {}, "\"" + visible(o.earthing) + "\" is no earthing arrangement",
              {"Known are TN-S, TN-C-S, TN-C, TT and IT."});
  if (!o.date.empty()) {
    if (const auto date = Date::parse(o.date))
      asked.date = *date;
    else
      out.error("not-a-date", {}, "--date is \"" + visible(o.date) + "\", which is no date",
                {"Write the date of the design as year, month, day: 2026-11-20."});
  }
  asked.feeds = o.feeds;
  asked.places = o.places;
  asked.is_new = o.is_new;
  asked.three_phase = o.three_phase;
  return out.ok() ? std::optional(asked) : std::nullopt;
}

Json needs_json(const checks::CircuitAsked& asked, const std::vector<checks::Need>& needs) {
  Json list = Json::array();
  for (const checks::Need& n : needs) {
    Json one = Json::object();
    one.set("stage", checks::name(n.stage)).set("key", n.key).set("what", n.what);
    one.set("limit", n.limit).set("how", n.how).set("why", n.why).set("source", n.source);
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("type", record::name(asked.type)).set("device", asked.device.words());
  j.set("earthing", limits::name(asked.earthing));
  j.set("edition", limits::name(limits::edition_for(asked.date)));
  j.set("readings", std::move(list));
  return j;
}

std::string needs_text(const checks::CircuitAsked& asked, const std::vector<checks::Need>& needs,
                       const Common& common, const Style& style, int width) {
  const std::string head = std::string(record::name(asked.type)) + ", " + asked.device.words() +
                           ", " + std::string(limits::name(asked.earthing)) + ", " +
                           std::string(limits::name(limits::edition_for(asked.date)));
  std::string text = wrapped(head, "", "", width);
  std::string_view stage;
  int number = 0;
  for (const checks::Need& n : needs) {
    if (checks::name(n.stage) != stage) {
      stage = checks::name(n.stage);
      text += "\n" + style(Tone::strong, stage) + "\n";
      if (n.stage == checks::Stage::live)
        text += wrapped("Only when every dead test is there and passes.", "  ", "  ", width);
    }
    ++number;
    const std::string tag = (number < 10 ? " " : "") + std::to_string(number) + "  ";
    text += wrapped(n.what + (n.limit.empty() ? "" : "  " + n.limit) + "  [" + n.key + "]", tag,
                    "    ", width);
    if (common.quiet) continue;
    text += wrapped(n.how, "    → ", "      ", width);
    text += wrapped(n.why, "    why: ", "         ", width);
    if (common.verbose) text += wrapped(n.source, "    source: ", "            ", width);
  }
  return text;
}

int run_needs(Environment& e, const NeedsOptions& o) {
  Diagnostics out;
  const auto asked = asked_of(o, out);
  if (!asked) return o.common.json ? complain_json(e, out, {}) : complain(e, out, {}, o.common);
  const auto needs = checks::needs_of(*asked);
  const Json json = needs_json(*asked, needs);
  if (o.common.csv) return say(e, csv_of(*json.find("readings")));
  if (o.common.json) return say(e, json.dump() + "\n");
  return say(e, needs_text(*asked, needs, o.common, style_for(o.common, e, false), text_width(e)));
}

std::vector<std::string> strings(std::span<const std::string_view> words) {
  return {words.begin(), words.end()};
}

}  // namespace

void add_needs(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<NeedsOptions>();
  Command* c = app.add_subcommand(
      "needs", "Which readings a circuit needs, in which order, to which limit, and why");
  c->add_option("type", o->type, "Ring final, radial, spur or distribution (default ring final)")
      ->type_name("TYPE")
      ->offers({"ring", "radial", "spur", "distribution"});
  c->add_option("--device", o->device, "Overcurrent device, as on its label")->type_name("DEVICE");
  c->add_option("--rcd", o->rcd, "An RCD of its own upstream of the device")->type_name("DEVICE");
  c->add_option("--earthing", o->earthing, "TN-S, TN-C-S, TN-C or TT (default TN-C-S)")
      ->type_name("SYSTEM")
      ->offers({"TN-S", "TN-C-S", "TN-C", "TT"});
  c->add_option("--feeds", o->feeds, "What it feeds, such as socket-outlets, lighting")
      ->type_name("WORD")
      ->one_of(strings(record::kFeedWords));
  c->add_option("--place", o->places, "Where it goes that calls for more care, such as bathroom")
      ->type_name("WORD")
      ->one_of(strings(record::kPlaceWords));
  c->add_flag("--new", o->is_new, "The circuit is new");
  c->add_flag("--three-phase", o->three_phase, "It has three phases");
  c->add_option("--date", o->date, "Date of the design, to choose the edition by")
      ->type_name("DATE");
  add_common(*c, o->common, kJson | kCsv | kVolume);
  add_examples(
      *c,
      "  ohmleaf needs ring\n"
      "  ohmleaf needs radial --device \"MCB B16, 6 kA\" --rcd \"RCCB 63 A, 30 mA type A\"\n"
      "  ohmleaf needs radial --earthing TT --feeds lighting --place bathroom");
  c->callback([o, &e, &exit_code] { exit_code = run_needs(e, *o); });
}

}  // namespace ohmleaf::cli
