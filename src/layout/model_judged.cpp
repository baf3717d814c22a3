#include <algorithm>
#include <array>
#include <string_view>
#include <unordered_map>
#include <unordered_set>

#include "base/text.h"
#include "layout/model_rows.h"

// What the checks found, and what the limits rest on.

namespace ohmleaf::layout::model {
namespace {

using checks::Finding;
using checks::Verdict;

std::string place_words(const Finding& f, const Context& x) {
  if (f.circuit < 0) return {};
  const auto i = static_cast<std::size_t>(f.circuit);
  if (i >= x.job.circuits.size()) return {};
  std::string out = circuit_place(x.job, i);
  if (x.job.circuits[i].name) out += (out.empty() ? "" : ", ") + *x.job.circuits[i].name;
  return out;
}

View circuit_ref(const Finding& f, const Context& x) {
  if (f.circuit < 0) return {};
  return text_view(circuit_place(x.job, static_cast<std::size_t>(f.circuit)));
}

View provenance_view(const Finding& f) {
  return f.provenance ? View::of_text(std::string(limits::name(*f.provenance))) : View{};
}

bool from_memory(const Finding& f) {
  return f.provenance && *f.provenance == limits::Provenance::memory;
}

View causes_view(const Finding& f) {
  View out = View::list();
  for (const std::string& c : f.causes) out.items.push_back(View::of_text(c));
  return out;
}

View used_view(const Finding& f) {
  return f.used_permille ? View::of_text(std::to_string(*f.used_permille)) : View{};
}

/// Its cell says what it is about: papers have a stage of their own, instruments a prefix.
bool of_the_installation(const Finding& f) {
  return f.stage != checks::Stage::paper && !f.cell.starts_with("instrument");
}

#define GET(expression) \
  [](const Finding& f, [[maybe_unused]] const Context& x) -> View { return expression; }
using F = Row<Finding>;

const std::array kFinding{
    F{"check", Type::own, "id of the check", GET(View::of_text(std::string(f.check)))},
    F{"verdict", Type::text, "the verdict", GET(View::of_text(std::string(name(f.verdict))))},
    F{"subject", Type::text, "what was judged", GET(text_view(f.subject))},
    F{"message", Type::text, "the finding, one sentence", GET(text_view(f.message))},
    F{"text", Type::text, "the reading as written, with its unit", GET(text_view(f.reading))},
    F{"limit", Type::text, "the limit as printed", GET(text_view(f.limit))},
    F{"difference", Type::text, "how far from the limit", GET(text_view(f.difference))},
    F{"derivation", Type::text, "how the limit was worked out", GET(text_view(f.derivation))},
    F{"decision", Type::text, "how the verdict allows for the instrument's uncertainty",
      GET(text_view(f.decision))},
    F{"source", Type::text, "where the limit comes from", GET(text_view(f.source))},
    F{"provenance", Type::text, "published, computed, memory …", GET(provenance_view(f))},
    F{"from_memory", Type::flag, "the limit's value is from memory",
      GET(View::of_flag(from_memory(f)))},
    F{"causes", Type::texts, "likely causes, most likely first", GET(causes_view(f))},
    F{"action", Type::text, "what to do next", GET(text_view(f.action))},
    F{"caution", Type::text, "where the action can hurt", GET(text_view(f.caution))},
    F{"place", Type::own, "the circuit it is about, by reference and name",
      GET(text_view(place_words(f, x)))},
    F{"circuit", Type::own, "the circuit's reference", GET(circuit_ref(f, x))},
    F{"confirmed_by", Type::own, "who confirmed it", GET(text_view(f.confirmed_by))},
    F{"confirmed_reason", Type::own, "why it was confirmed", GET(text_view(f.confirmed_reason))},
    F{"installation", Type::flag, "it is about the installation, not about papers or instruments",
      GET(View::of_flag(of_the_installation(f)))},
    F{"used_permille", Type::text, "share of the limit used, in thousandths", GET(used_view(f))},
};
#undef GET

/// Each source once, in the order it is first met.
const std::vector<LimitSource>& sources_of(const Context& x) {
  if (x.sources) return *x.sources;
  std::vector<LimitSource>& out = x.sources.emplace();
  std::unordered_set<std::string_view> known;
  for (const Finding* f : x.found.with_limit()) {
    if (f->source.empty() || !known.insert(f->source).second) continue;
    const std::string provenance = f->provenance ? std::string(limits::name(*f->provenance)) : "";
    out.push_back({f->source, provenance, from_memory(*f)});
  }
  return out;
}

const std::array kSource{
    Row<LimitSource>{"text", Type::text, "standard and table, or where the value was read",
                [](const LimitSource& s, const Context&) { return View::of_text(s.text); }},
    Row<LimitSource>{"provenance", Type::text, "published, computed, memory …",
                [](const LimitSource& s, const Context&) { return text_view(s.provenance); }},
    Row<LimitSource>{"from_memory", Type::flag, "the value is from memory",
                [](const LimitSource& s, const Context&) { return View::of_flag(s.memory); }},
};
std::vector<Shape> source_members() {
  return shapes_from<LimitSource>(kSource);
}

View sources_view(const Context& x) {
  View out = View::list();
  for (const LimitSource& s : sources_of(x)) out.items.push_back(view_from<LimitSource>(kSource, s, x));
  return out;
}

/// "3 BS 7671 Table 41.3 …"
View numbered_view(const Context& x) {
  View out = View::list();
  for (const LimitSource& s : sources_of(x))
    out.items.push_back(View::of_text(std::to_string(out.items.size() + 1) + "\u00A0" + s.text));
  return out;
}

View memory_view(const Context& x) {
  View out = View::list();
  for (const LimitSource& s : sources_of(x))
    if (s.memory) out.items.push_back(View::of_text(s.text));
  return out;
}

/// One limit, with the circuits that it holds for and all its sources: it is listed once.
struct Basis {
  const Finding* finding;
  std::vector<std::string> circuits, sources;  ///< sources by their numbers
  std::unordered_set<std::string> known;       ///< the circuits again
};

void add_once(std::vector<std::string>& list, std::string text) {
  if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(std::move(text));
}

/// "CU1 / 1, 3, 4": each board is named once. A long list is cut short: the reader of a large
/// schedule knows where the rest stands.
std::string circuit_list(const std::vector<std::string>& circuits) {
  constexpr std::size_t kMost = 8;
  constexpr std::string_view kSlash = "\u00A0/\u00A0";
  std::string out, board;
  for (std::size_t i = 0; i < std::min(circuits.size(), kMost); ++i) {
    const std::string& place = circuits[i];
    const auto slash = place.find(kSlash);
    const std::string here = slash == std::string::npos ? std::string() : place.substr(0, slash);
    const bool same = i > 0 && here == board && slash != std::string::npos;
    out += (i > 0 ? ", " : "") + (same ? place.substr(slash + kSlash.size()) : place);
    board = here;
  }
  if (circuits.size() > kMost) out += " … +" + std::to_string(circuits.size() - kMost);
  return out;
}

std::vector<Basis> limits_of(const Context& x) {
  std::unordered_map<std::string, std::string> numbers;
  for (const LimitSource& s : sources_of(x)) numbers[s.text] = std::to_string(numbers.size() + 1);
  std::unordered_map<std::string, std::size_t> places;
  std::string key;
  std::vector<Basis> out;
  for (const Finding* of_limit : x.found.with_limit()) {
    const Finding& f = *of_limit;
    key.assign(f.subject).append(1, '\n').append(f.limit).append(1, '\n').append(f.derivation);
    const auto [it, fresh] = places.try_emplace(key, out.size());
    if (fresh) out.push_back({&f, {}, {}, {}});
    Basis& basis = out[it->second];
    if (const auto number = numbers.find(f.source); number != numbers.end())
      add_once(basis.sources, number->second);
    if (f.circuit < 0) continue;
    std::string place = circuit_place(x.job, static_cast<std::size_t>(f.circuit));
    if (basis.known.insert(place).second) basis.circuits.push_back(std::move(place));
  }
  return out;
}

View circuits_of(const Basis& b, const Context& x) {
  if (b.circuits.size() > 1 && b.circuits.size() == x.job.circuits.size()) return {};
  return text_view(circuit_list(b.circuits));
}

const std::array kLimit{
    Row<Basis>{"subject", Type::text, "what is judged",
               [](const Basis& b, const Context&) { return text_view(b.finding->subject); }},
    Row<Basis>{"limit", Type::text, "the limit as printed",
               [](const Basis& b, const Context&) { return text_view(b.finding->limit); }},
    Row<Basis>{"derivation", Type::text, "how it was worked out",
               [](const Basis& b, const Context&) { return text_view(b.finding->derivation); }},
    Row<Basis>{"source", Type::text, "where it comes from",
               [](const Basis& b, const Context&) { return text_view(b.finding->source); }},
    Row<Basis>{"numbers", Type::text, "the numbers of its sources, as basis.numbered lists them",
               [](const Basis& b, const Context&) { return text_view(join(b.sources, ", ")); }},
    Row<Basis>{"provenance", Type::text, "published, computed, memory …",
               [](const Basis& b, const Context&) { return provenance_view(*b.finding); }},
    Row<Basis>{"circuits", Type::own, "the circuits it holds for; nothing where it is all of them",
               [](const Basis& b, const Context& x) { return circuits_of(b, x); }},
};
std::vector<Shape> limit_members() {
  return shapes_from<Basis>(kLimit);
}

View limits_view(const Context& x) {
  View out = View::list();
  for (const Basis& b : limits_of(x)) out.items.push_back(view_from<Basis>(kLimit, b, x));
  return out;
}

bool guarded(const Context& x) {
  const auto found = x.found.with_limit();
  return std::any_of(found.begin(), found.end(), [](const Finding* f) { return !f->decision.empty(); });
}

const std::array kBasis{
    Row<Context>{"limits", Type::list, "every limit once, with its derivation and source",
                 [](const Context& x, const Context&) { return limits_view(x); }, table_of<limit_members>},
    Row<Context>{"edition", Type::text, "the edition of the wiring rules",
                 [](const Context& x, const Context&) {
                   return View::of_text(std::string(limits::name(x.report.edition)));
                 }},
    Row<Context>{"sources", Type::list, "the sources of the limits, each once",
                 [](const Context& x, const Context&) { return sources_view(x); }, table_of<source_members>},
    Row<Context>{"numbered", Type::texts, "the sources of the limits, each once, with its number",
                 [](const Context& x, const Context&) { return numbered_view(x); }},
    Row<Context>{"guarded", Type::flag, "a verdict allows for an instrument's declared uncertainty",
                 [](const Context& x, const Context&) { return View::of_flag(guarded(x)); }},
    Row<Context>{"memory", Type::texts, "the limits whose values are from memory",
                 [](const Context& x, const Context&) { return memory_view(x); }},
};

View count_view(const Context& x, Verdict v) {
  return View::of_text(std::to_string(x.found.tally().count(v)));
}

std::size_t readings_with_limit(const Context& x) {
  const auto found = x.found.with_limit();
  return static_cast<std::size_t>(
      std::count_if(found.begin(), found.end(), [](const Finding* f) { return !f->reading.empty(); }));
}

std::size_t fitted(const Context& x) {
  std::size_t n = 0;
  for (const auto& c : x.job.circuits) n += c.accessories.size();
  return n;
}

#define GET(expression) [](const Context& x, const Context&) -> View { return expression; }
using N = Row<Context>;
const std::array kCounts{
    N{"fail", Type::text, "readings or rules beyond their limit",
      GET(count_view(x, Verdict::fail))},
    N{"missing", Type::text, "what is needed and not there", GET(count_view(x, Verdict::missing))},
    N{"doubtful", Type::text, "what cannot be true together",
      GET(count_view(x, Verdict::doubtful))},
    N{"borderline", Type::text, "inside the limit, without allowances",
      GET(count_view(x, Verdict::borderline))},
    N{"pass", Type::text, "what is in order", GET(count_view(x, Verdict::pass))},
    N{"note", Type::text, "notes", GET(count_view(x, Verdict::note))},
    N{"judged", Type::text, "readings that were compared with a limit",
      GET(View::of_text(std::to_string(readings_with_limit(x))))},
    N{"circuits", Type::text, "circuits",
      GET(View::of_text(std::to_string(x.job.circuits.size())))},
    N{"accessories", Type::text, "accessories fitted",
      GET(View::of_text(std::to_string(fitted(x))))},
};
#undef GET

}  // namespace

View findings_view(const Context& x, std::initializer_list<Verdict> verdicts) {
  View out = View::list();
  for (const Verdict verdict : verdicts)
    for (const Finding* f : x.found.with(verdict)) {
      if (verdict == Verdict::note && f->cell == "disconnection_time") continue;  // printed with the circuit
      out.items.push_back(view_from<Finding>(kFinding, *f, x));
    }
  return out;
}

View evidence_view(const Context& x, int circuit) {
  View out = View::list();
  for (const Finding* f : x.found.of(circuit))
    if (!f->limit.empty()) out.items.push_back(view_from<Finding>(kFinding, *f, x));
  return out;
}

std::vector<Shape> finding_members() {
  return shapes_from<Finding>(kFinding);
}
View basis_view(const Context& x) {
  return view_from<Context>(kBasis, x, x);
}
std::vector<Shape> basis_members() {
  return shapes_from<Context>(kBasis);
}
View counts_view(const Context& x) {
  return view_from<Context>(kCounts, x, x);
}
std::vector<Shape> count_members() {
  return shapes_from<Context>(kCounts);
}

}  // namespace ohmleaf::layout::model
