#include <charconv>
#include <memory>

#include "app/due.h"
#include "app/person.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/csv_report.h"

namespace ohmleaf::cli {
namespace {

struct DueOptions {
  Common common;
  std::string within, from, to, ical;
};

constexpr int kDefaultDays = 90;

std::optional<Date> read_date(const char* option, const std::string& text, Diagnostics& out) {
  const auto date = Date::parse(text);
  if (!date)
    out.error("due-date", {}, "\"" + visible(text) + "\" is no date",
              {std::string("Write ") + option + " as year-month-day: 2027-03-31."});
  return date;
}

/// "90d", "12w", "6m", "1y", or days alone.
std::optional<Date> read_within(const std::string& text, Instant now, Diagnostics& out) {
  int count = kDefaultDays;
  char unit = 'd';
  if (!text.empty()) {
    const char* end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, count);
    if (stop != end) unit = *stop;
    const bool one = end - stop <= 1;
    if (error != std::errc() || !one || count < 0 || count > 36'500 ||
        std::string_view("dwmy").find(unit) == std::string_view::npos) {
      out.error("due-within", {}, "\"" + visible(text) + "\" is no length of time",
                {"Write 90d, 12w, 6m or 1y for days, weeks, months or years."});
      return std::nullopt;
    }
  }
  if (unit == 'm') return now.date().plus_months(count);
  if (unit == 'y') return now.date().plus_months(12 * count);
  return Instant{now.unix_seconds + std::int64_t{86'400} * count * (unit == 'w' ? 7 : 1)}.date();
}

struct Window {
  std::optional<Date> from;
  Date to;
};

std::optional<Window> window_of(const DueOptions& o, Instant now, Diagnostics& out) {
  Window w;
  if (!o.within.empty() && !(o.from.empty() && o.to.empty())) {
    out.error("due-window", {}, "--within and --from or --to say two different times",
              {"Give one or the other."});
    return std::nullopt;
  }
  if (o.from.empty() && o.to.empty()) {
    const auto to = read_within(o.within, now, out);
    if (!to) return std::nullopt;
    w.to = *to;
    return w;
  }
  if (!o.from.empty()) w.from = read_date("--from", o.from, out);
  const auto to = o.to.empty() ? std::optional(Date{2999, 12, 31}) : read_date("--to", o.to, out);
  if (!out.ok()) return std::nullopt;
  w.to = *to;
  return w;
}

Json due_json(const std::vector<app::Due>& list, Date today) {
  Json items = Json::array();
  for (const app::Due& d : list) {
    Json one = Json::object();
    one.set("kind", app::name(d.kind)).set("date", d.day.iso()).set("overdue", d.day < today);
    one.set("number", d.number).set("what", d.what).set("premises", d.premises);
    items.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("due", std::move(items));
  return j;
}

std::string due_text(const std::vector<app::Due>& list, Date today, int width) {
  std::string text;
  for (const app::Due& d : list) {
    std::string line = d.number.empty() ? d.what : d.number + ", " + d.what;
    if (!d.premises.empty()) line += ", " + d.premises;
    text += wrapped(
        visible(line),
        d.day.iso() + "  " +
            padded(app::name(d.kind) == "retention" ? "keep" : std::string(app::name(d.kind)), 12) +
            (d.day < today ? "OVERDUE  " : ""),
        std::string(24, ' '), width);
  }
  return text.empty() ? "Nothing falls due in this time.\n" : text;
}

int run_due(Environment& e, const DueOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto window = window_of(o, e.now(), out);
  const auto installer =
      window ? app::load_installer(places_of(o.common, e), sources, out) : std::nullopt;
  const auto store = installer ? open_archive(e, o.common, out) : std::nullopt;
  if (!store) return refuse(e, o.common, out, sources);
  const auto list = app::due(store->find({}, out), *installer, window->from, window->to);
  if (!out.ok()) return refuse(e, o.common, out, sources);
  if (!o.ical.empty() && !write_file(o.ical, app::calendar_of(list, e.now()), out))
    return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  const Date today = e.now().date();
  const Json json = due_json(list, today);
  if (o.common.csv) return say(e, csv_of(*json.find("due")));
  if (o.common.json) return say(e, json.dump() + "\n");
  return report(e, o.common, due_text(list, today, text_width(e)));
}

}  // namespace

void add_due(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<DueOptions>();
  Command* c = app.add_subcommand(
      "due", "What falls due: next inspections, calibrations, the time to keep certificates");
  c->add_option("--within", o->within,
                "From long ago to so far ahead: 90d (the default), 12w, 6m, 1y")
      ->type_name("TIME");
  c->add_option("--from", o->from, "First day, year-month-day")->type_name("DATE");
  c->add_option("--to", o->to, "Last day, year-month-day")->type_name("DATE");
  c->add_option("--ical", o->ical, "Write a calendar file as well (iCalendar)")->type_name("FILE");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kCsv | kVolume);
  add_examples(
      *c,
      "  ohmleaf due --within 6m\n  ohmleaf due --from 2027-01-01 --to 2027-12-31 --ical due.ics");
  c->callback([o, &e, &exit_code] { exit_code = run_due(e, *o); });
}

}  // namespace ohmleaf::cli
