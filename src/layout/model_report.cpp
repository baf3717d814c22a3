#include <algorithm>
#include <array>

#include "layout/model_rows.h"

// A condition report: its observations, each classified, and the outcome that follows from them.

namespace ohmleaf::layout::model {
namespace {

using checks::Finding;
using checks::Verdict;
using record::Observation;

/// The trade's classes (from memory), the gravest first. Any of the first three makes the outcome
/// unsatisfactory.
struct Class {
  std::string_view code, words, verdict;
  bool unsatisfactory;
};
constexpr std::array kClasses{
    Class{"C1", "danger present", "fail", true},
    Class{"C2", "potentially dangerous", "fail", true},
    Class{"FI", "further investigation needed", "doubtful", true},
    Class{"C3", "improvement recommended", "borderline", false},
};

/// What is not classified counts for the graver of what it can be.
const Class& class_of(std::string_view code) {
  for (const Class& c : kClasses)
    if (c.code == code) return c;
  return kClasses[2];
}

struct Entry {
  const Class* grade;
  const Observation* told;  ///< null: the inspector has not classified what the checks found
  const Finding* found;     ///< null: seen, not measured
};

/// `check` names the check, or the very cell where one check looks at many ("inspection.labels").
bool about(const Observation& o, const Finding& f, const Context& x) {
  if (!o.check || (*o.check != f.check && *o.check != f.cell)) return false;
  if (f.circuit < 0) return !o.circuit;
  const auto& circuit = x.job.circuits[static_cast<std::size_t>(f.circuit)];
  return o.circuit && circuit.ref && *o.circuit == *circuit.ref;
}

std::vector<Entry> entries_of(const Context& x) {
  std::vector<Entry> out;
  const auto found = x.found.observations();
  std::vector<const Finding*> open(found.begin(), found.end());
  for (const Observation& o : x.job.observations) {
    Entry e{&class_of(o.code.value_or("")), &o, nullptr};
    for (const Finding*& f : open)
      if (f && !e.found && about(o, *f, x)) e.found = std::exchange(f, nullptr);
    out.push_back(e);
  }
  for (const Finding* f : open)
    if (f) out.push_back({&class_of(f->verdict == Verdict::fail ? "C2" : "FI"), nullptr, f});
  std::stable_sort(out.begin(), out.end(),
                   [](const Entry& a, const Entry& b) { return a.grade < b.grade; });
  return out;
}

std::string place_of(const Finding* f, const Context& x) {
  return f && f->circuit >= 0 ? circuit_place(x.job, static_cast<std::size_t>(f->circuit))
                              : std::string();
}

View what(const Entry& e) {
  return e.told ? text_view(e.told->what) : text_view(e.found->message);
}
View action(const Entry& e) {
  if (e.told && e.told->action) return text_view(e.told->action);
  return e.found ? text_view(e.found->action) : View{};
}
View circuit(const Entry& e, const Context& x) {
  const std::string place = place_of(e.found, x);
  return place.empty() && e.told ? text_view(e.told->circuit) : text_view(place);
}

#define GET(expression)                                                            \
  []([[maybe_unused]] const Entry& e, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                             \
  }
using E = Row<Entry>;
const std::array kEntry{
    E{"code", Type::text, "C1, C2, FI, C3", GET(View::of_text(std::string(e.grade->code)))},
    E{"code_words", Type::text, "what the code means",
      GET(View::of_text(std::string(e.grade->words)))},
    E{"verdict", Type::text, "a verdict as grave as the code",
      GET(View::of_text(std::string(e.grade->verdict)))},
    E{"what", Type::text, "what was seen or measured", GET(what(e))},
    E{"where", Type::text, "where it is", GET(e.told ? text_view(e.told->where) : View{})},
    E{"circuit", Type::text, "the circuit it is about", GET(circuit(e, x))},
    E{"reading", Type::text, "what was measured, against which limit",
      GET(e.told&& e.found ? text_view(e.found->message) : View{})},
    E{"action", Type::text, "what is to be done", GET(action(e))},
    E{"proposed", Type::flag, "the code is the program's, for the inspector to decide",
      GET(View::of_flag(!e.told))},
};
#undef GET
std::vector<Shape> entry_members() {
  return shapes_from<Entry>(kEntry);
}

View entries_view(const Context& x) {
  View out = View::list();
  for (const Entry& e : entries_of(x)) out.items.push_back(view_from<Entry>(kEntry, e, x));
  return out;
}

View count_of(std::string_view code, const Context& x) {
  const auto all = entries_of(x);
  return View::of_text(std::to_string(std::count_if(
      all.begin(), all.end(), [&](const Entry& e) { return e.grade->code == code; })));
}

bool unsatisfactory(const Context& x) {
  const auto all = entries_of(x);
  return std::any_of(all.begin(), all.end(),
                     [](const Entry& e) { return e.grade->unsatisfactory; });
}

/// Readings and inspections that were limited: not done, with the reason.
View limited_view(const Context& x) {
  View out = View::list();
  for (const Finding* f : x.found.with(Verdict::not_applicable)) {
    if (!f->reading.starts_with("LIM")) continue;
    View item = View::group();
    item.members = {{"circuit", text_view(place_of(f, x))}, {"what", text_view(f->message)}};
    out.items.push_back(std::move(item));
  }
  return out;
}
std::vector<Shape> limited_members() {
  return {leaf_shape("circuit", Type::text, "the circuit, where it is about one"),
          leaf_shape("what", Type::text, "what was not done, and why")};
}

#define GET(expression) [](const Context& x, const Context&) -> View { return expression; }
using R = Row<Context>;
const std::array kReport{
    R{"observations", Type::list, "every observation with its code, the gravest first",
      GET(entries_view(x)), table_of<entry_members>},
    R{"none", Type::flag, "there is no observation", GET(View::of_flag(entries_of(x).empty()))},
    R{"limited", Type::list, "what was not inspected or tested, by an agreed limitation",
      GET(limited_view(x)), table_of<limited_members>},
    R{"satisfactory", Type::flag, "the outcome is satisfactory",
      GET(View::of_flag(!unsatisfactory(x)))},
    R{"unsatisfactory", Type::flag, "the outcome is unsatisfactory",
      GET(View::of_flag(unsatisfactory(x)))},
    R{"verdict", Type::text, "a verdict as grave as the outcome",
      GET(View::of_text(unsatisfactory(x) ? "fail" : "pass"))},
    R{"c1", Type::text, "how many are coded C1", GET(count_of("C1", x))},
    R{"c2", Type::text, "how many are coded C2", GET(count_of("C2", x))},
    R{"c3", Type::text, "how many are coded C3", GET(count_of("C3", x))},
    R{"fi", Type::text, "how many are coded FI", GET(count_of("FI", x))},
};
#undef GET

}  // namespace

View report_view(const Context& x) {
  return view_from<Context>(kReport, x, x);
}
std::vector<Shape> report_members() {
  return shapes_from<Context>(kReport);
}

}  // namespace ohmleaf::layout::model
