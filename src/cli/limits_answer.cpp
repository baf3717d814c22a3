#include "cli/limits_answer.h"

#include "base/text.h"
#include "limits/table.h"

namespace ohmleaf::cli {
namespace {

/// An option as it is typed: "--length".
std::string typed(std::string_view option) {
  return "--" + std::string(option);
}

Json result_json(const LimitResult& r, limits::Edition edition) {
  Json j = Json::object();
  j.set("quantity", r.quantity).set("sense", r.sense).set("value", r.value);
  if (!r.upper.empty()) j.set("upper", r.upper);
  j.set("printed", r.printed()).set("exact", r.exact).set("unit", r.unit);
  j.set("derivation", r.derivation).set("source", r.source);
  j.set("edition", limits::name(edition)).set("provenance", limits::name(r.provenance));
  return j;
}

}  // namespace

std::string LimitResult::printed() const {
  std::string out = sense == "at most" ? "≤ " : sense == "at least" ? "≥ " : "";
  out += value;
  if (!upper.empty()) out += " to " + upper;
  return unit.empty() ? out : out + " " + unit;
}

LimitResult LimitAnswer::evidence(std::string quantity, std::string exact, std::string derivation,
                                  std::string source, limits::Provenance provenance) {
  LimitResult r;
  r.quantity = std::move(quantity);
  r.exact = std::move(exact);
  r.derivation = std::move(derivation);
  r.source = std::move(source);
  r.provenance = provenance;
  return r;
}

void LimitAnswer::add(std::string quantity, const limits::Factor& factor) {
  LimitResult r = evidence(std::move(quantity), factor.exact, factor.derivation, factor.source,
                           factor.provenance);
  r.value = factor.value.str();
  r.unit = factor.unit;
  results.push_back(std::move(r));
}

void LimitAnswer::say(std::string quantity, std::string value, std::string derivation,
                      std::string source, limits::Provenance provenance) {
  LimitResult r =
      evidence(std::move(quantity), value, std::move(derivation), std::move(source), provenance);
  r.value = std::move(value);
  results.push_back(std::move(r));
}

std::string limits_text(const LimitAnswer& answer, const Style& style, int width) {
  constexpr int kValueColumn = 20;
  const std::string indent(kValueColumn, ' ');
  std::string text;
  SourceMarks marks;
  for (const LimitResult& r : answer.results) {
    // The figure stands out; it is the first thing of its line.
    const std::string shown = padded(visible(r.printed()) + "  ", kValueColumn);
    const std::string head = wrapped(visible(r.quantity), shown, indent, width);
    text += style(Tone::strong, head.substr(0, shown.size())) + head.substr(shown.size());
    text += wrapped(visible(r.derivation) + " " + marks.mark(r.provenance, r.source), indent,
                    indent, width);
    if (r.provenance == limits::Provenance::memory)
      text += style(Tone::doubt, indent + "FROM MEMORY, not read in print") + "\n";
  }
  for (const std::string& note : answer.notes) text += wrapped(visible(note), "", "", width);
  text += style(Tone::quiet, marks.text(width));
  return text + style(Tone::quiet, "edition " + std::string(limits::name(answer.edition))) + "\n";
}

std::string SourceMarks::mark(limits::Provenance provenance, const std::string& source) {
  const std::string words = std::string(limits::name(provenance)) + ": " + source;
  std::size_t at = 0;
  while (at < list_.size() && list_[at] != words) ++at;
  if (at == list_.size()) list_.push_back(words);
  return "[" + std::to_string(at + 1) + "]";
}

std::string SourceMarks::text(int width) const {
  std::string out;
  for (std::size_t i = 0; i < list_.size(); ++i)
    out += wrapped(visible(list_[i]), padded("[" + std::to_string(i + 1) + "]", 5), "     ", width);
  return out;
}

Json limits_json(const LimitAnswer& answer) {
  Json results = Json::array();
  for (const LimitResult& r : answer.results) results.push(result_json(r, answer.edition));
  Json notes = Json::array();
  for (const std::string& note : answer.notes) notes.push(note);
  Json j = Json::object();
  j.set("format", 1).set("edition", limits::name(answer.edition));
  j.set("results", std::move(results)).set("notes", std::move(notes));
  return j;
}

const std::string* LimitQuestion::find(std::string_view option) const {
  const auto found = values_.find(std::string(option));
  return found == values_.end() || found->second.empty() ? nullptr : &found->second;
}

bool LimitQuestion::flag(std::string_view option) const {
  const auto found = flags_.find(std::string(option));
  return found != flags_.end() && found->second;
}

std::string LimitQuestion::text(std::string_view option, std::string_view otherwise) const {
  const std::string* written = find(option);
  return written != nullptr ? *written : std::string(otherwise);
}

void LimitQuestion::wrong(std::string_view id, std::string message, std::string hint) const {
  out_.error(std::string(id), {}, std::move(message), {std::move(hint)});
}

void LimitQuestion::not_a_choice(std::string_view option, std::string_view what,
                                 const std::vector<std::string>& names) const {
  const std::string* written = find(option);
  const std::string list = limits::list_words(names);
  if (written == nullptr)
    return wrong("missing-option",
                 "the " + std::string(what) + " is missing (" + typed(option) + ")",
                 "Give one of " + list + ".");
  std::vector<std::string_view> views(names.begin(), names.end());
  const auto near = nearest(*written, views);
  wrong("unknown-choice",
        "\"" + visible(*written) + "\" is no " + std::string(what) + " known to " + typed(option),
        (near ? "Did you mean \"" + *near + "\"? " : std::string()) + "Known are " + list + ".");
}

std::optional<Decimal> LimitQuestion::number(std::string_view option,
                                             std::optional<Decimal> otherwise, bool zero_allowed,
                                             int most) const {
  if (find(option) == nullptr) {
    if (!otherwise)
      wrong("missing-option", typed(option) + " is missing",
            "Give a number, for example " + typed(option) + " 1.5.");
    return otherwise;
  }
  return maybe_number(option, zero_allowed, most);
}

std::optional<Decimal> LimitQuestion::maybe_number(std::string_view option, bool zero_allowed,
                                                   int most) const {
  const std::string* written = find(option);
  if (written == nullptr) return std::nullopt;
  const auto value = Decimal::parse(trim(*written));
  if (!value) {
    wrong("not-a-number", typed(option) + " is \"" + visible(*written) + "\", which is no number",
          "Write digits with a point and without the unit, for example " + typed(option) + " 1.5.");
  } else if (value->is_negative() || (value->is_zero() && !zero_allowed)) {
    wrong("not-positive",
          typed(option) + " is " + value->str() + ", which is not " +
              (zero_allowed ? "zero or more" : "above zero"),
          std::string("Allowed is ") + (zero_allowed ? "0" : "more than 0") + " up to " +
              std::to_string(most) + ".");
  } else if (*value > Decimal::integer(most)) {
    wrong("too-large", typed(option) + " is " + value->str() + ", more than makes sense here",
          std::string("Allowed is ") + (zero_allowed ? "0" : "more than 0") + " up to " +
              std::to_string(most) + ".");
  } else {
    return value;
  }
  return std::nullopt;
}

std::optional<Decimal> LimitQuestion::temperature(std::string_view option, int otherwise) const {
  const std::string* written = find(option);
  if (written == nullptr) return Decimal::integer(otherwise);
  const auto value = Decimal::parse(trim(*written));
  if (value && *value >= Decimal::integer(-50) && *value <= Decimal::integer(250)) return value;
  wrong("not-a-temperature",
        typed(option) + " is \"" + visible(*written) + "\", which is no temperature of a cable",
        "Write degrees Celsius from -50 to 250, for example " + typed(option) + " 20.");
  return std::nullopt;
}

}  // namespace ohmleaf::cli
