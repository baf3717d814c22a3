#include "base/text.h"
#include "cli/limits_answer.h"
#include "limits/conductor.h"
#include "limits/conductor_tables.h"
#include "limits/table.h"
#include "limits/temperature.h"

// `limits r1r2`, `ring`, `insulation`: what belongs to the dead tests.

namespace ohmleaf::cli {

using namespace limits;

namespace {

std::string sizes_that_exist() {
  std::vector<std::string> list;
  for (const SquareMm& s : known_sizes()) list.push_back(s.decimal().short_str());
  return "Sizes that exist: " + list_words(list) + " mm².";
}

/// A size of conductor that the table knows; else says which exist.
std::optional<SquareMm> size_of(const LimitQuestion& q, std::string_view option, bool required) {
  const auto value = required ? q.number(option) : q.maybe_number(option);
  if (!value) return std::nullopt;
  if (resistance_per_metre(SquareMm(*value))) return SquareMm(*value);
  q.wrong("unknown-size",
          "there is no conductor of " + value->str() + " mm² (--" + std::string(option) + ")",
          sizes_that_exist());
  return std::nullopt;
}

struct Pair {
  std::optional<SquareMm> line, cpc;
};

/// Both sizes, apart (--line 2.5 --cpc 1.5) or as the trade writes them (--line 2.5/1.5).
Pair sizes_of(const LimitQuestion& q) {
  const std::string text = q.text("line");
  const auto slash = text.find('/');
  if (slash == std::string::npos) return {size_of(q, "line", true), size_of(q, "cpc", false)};
  const auto part = [&](std::string_view one) -> std::optional<SquareMm> {
    const auto value = Decimal::parse(trim(one));
    if (value && resistance_per_metre(SquareMm(*value))) return SquareMm(*value);
    q.wrong("unknown-size", "there is no conductor of \"" + visible(one) + "\" mm² (--line)",
            sizes_that_exist() + " Two of them stand like --line 2.5/1.5.");
    return std::nullopt;
  };
  if (q.has("cpc")) {
    q.wrong("two-sizes",
            "--line \"" + visible(text) + "\" and --cpc both give a protective conductor",
            "Write --line 2.5/1.5, or --line 2.5 --cpc 1.5.");
    return {};
  }
  const std::string_view all(text);
  const auto line = part(all.substr(0, slash));
  return {line, line ? part(all.substr(slash + 1)) : std::nullopt};
}

std::string pair_words(SquareMm line, const std::optional<SquareMm>& cpc) {
  return cpc ? "R1+R2, " + line.decimal().short_str() + "/" + cpc->decimal().short_str() + " mm²"
             : "resistance, " + line.decimal().short_str() + " mm²";
}

}  // namespace

void answer_r1r2(const LimitQuestion& q, LimitAnswer& a) {
  const auto [line, cpc] = sizes_of(q);
  const auto length = q.maybe_number("length", false, 100000);
  const auto reading = q.maybe_number("reading", true, 100000);
  const auto at = q.temperature("at", 20);
  if (!q.ok() || !line || !at) return;
  const Celsius t(*at);
  const std::string words = pair_words(*line, cpc);
  if (const auto per = expected_r1r2(*line, cpc, Metres(d("1")), t); per && !length) {
    a.say(words + ", one metre at " + t.with_unit(), per->exact + " Ω", per->derivation,
          per->source, per->provenance);
  }
  if (length) {
    const auto run = expected_r1r2(*line, cpc, Metres(*length), t);
    if (!run)
      return q.wrong("too-large", "the figures are larger than can be worked out exactly",
                     "Give the length in metres, as measured.");
    a.add(words + ", " + length->str() + " m at " + t.with_unit(), *run);
    const auto hot = expected_r1r2(*line, cpc, Metres(*length), Celsius(d("70")));
    if (hot && t != Celsius(d("70"))) a.add(words + ", the same in service at 70 °C", *hot);
  }
  if (!reading) return;
  if (!cpc)
    return q.wrong("missing-option", "--reading needs the protective conductor (--cpc)",
                   "Give both sizes, for example --line 2.5 --cpc 1.5.");
  if (const auto found = length_for(*line, *cpc, Ohms(*reading), t))
    a.add("length that reads " + reading->str() + " Ω at " + t.with_unit(), *found);
  if (t != Celsius(d("20")))
    if (const auto at_20 = at_temperature(Ohms(*reading), t, Celsius(d("20"))))
      a.add("the reading at 20 °C", *at_20);
}

void answer_ring(const LimitQuestion& q, LimitAnswer& a) {
  const auto r1 = q.number("r1", std::nullopt, true, 10000);
  const auto rn = q.number("rn", std::nullopt, true, 10000);
  const auto r2 = q.number("r2", std::nullopt, true, 10000);
  const auto line = size_of(q, "line", false), cpc = size_of(q, "cpc", false);
  if (!q.ok() || !r1 || !rn || !r2) return;
  const Ring found = ring(Ohms(*r1), Ohms(*rn), Ohms(*r2), line ? *line : SquareMm(d("2.5")),
                          cpc ? *cpc : SquareMm(d("1.5")));
  a.add("line–neutral cross-connected, at every point", found.line_neutral);
  a.add("line–cpc cross-connected, highest R1+R2", found.line_cpc);
  if (found.expected_r2)
    a.add(std::string("r2 expected from r1") + (line && cpc ? "" : ", taking 2.5/1.5 mm²"),
          *found.expected_r2);
  const auto tolerance = ring_line_neutral_tolerance(q.edition());
  const Ohms apart = (Ohms(*r1) - Ohms(*rn)).abs();
  a.add("r1 and rn apart, guidance (here " + apart.with_unit() + ")", tolerance);
  if (apart > tolerance.value)
    a.notes.emplace_back(
        "r1 and rn differ by more than the guidance: look for a loose or a wrong "
        "connection, or a ring that is not one.");
}

void answer_insulation(const LimitQuestion& q, LimitAnswer& a) {
  const auto volts = q.number("volts", d("230"), false, 100000);
  std::vector<Megohms> circuits;
  const std::string given = q.text("parallel");  // the parts below point into it
  for (const std::string_view part : split(given, ',')) {
    if (!q.has("parallel")) break;
    const auto value = Decimal::parse(trim(part));
    if (!value || value->is_negative())
      return q.wrong("not-a-number",
                     "--parallel holds \"" + visible(trim(part)) + "\", which is no resistance",
                     "Write megohms with commas between, for example --parallel 5,20,10.");
    circuits.emplace_back(*value);
  }
  if (!volts) return;
  const bool selv = q.flag("selv"), electronics = q.flag("electronics");
  if (selv && *volts > d("120"))
    return q.wrong("not-extra-low",
                   "SELV and PELV end at 50 V a.c. and 120 V d.c., and --volts is " + volts->str(),
                   "Leave --selv out, or give the extra-low voltage.");
  const InsulationRule rule = insulation(Volts(*volts), selv, electronics, q.edition());
  a.add("insulation resistance, " + volts->short_str() + " V, tested at " +
            rule.test_voltage.with_unit() + " d.c.",
        rule.minimum);
  a.add("look into a reading below, guidance", insulation_investigate(q.edition()));
  if (circuits.empty()) return;
  Derived<Megohms> together;
  together.value = insulation_parallel(circuits);
  if (together.value.is_void())
    return q.wrong("too-large", "the figures are larger than can be worked out exactly",
                   "Write megohms with commas between, for example --parallel 5,20,10.");
  together.exact = together.value.str();
  std::string words;
  for (const Megohms& r : circuits) words += (words.empty() ? "1 ÷ " : " + 1 ÷ ") + r.str();
  together.derivation = "1 ÷ (" + words + ") = " + together.exact + " MΩ, rounded down";
  together.source = "resistances in parallel";
  a.add(std::to_string(circuits.size()) + " circuits together", together);
}

}  // namespace ohmleaf::cli
