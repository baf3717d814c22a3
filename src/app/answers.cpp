#include "app/answers.h"

#include <algorithm>
#include <tuple>

#include "app/toml_write.h"
#include "base/files.h"
#include "base/text.h"
#include "base/toml_edit.h"
#include "quantity/reading.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

using checks::Finding;
using checks::Verdict;
using record::Shape;
using record::View;

/// The path without the numbers of elements, as a Shape knows it.
std::string shape_path(const TomlPath& path) {
  std::string out;
  for (const TomlStep& step : path) out += (out.empty() ? "" : ".") + step.key;
  return out;
}

std::string path_of(const Finding& f) {
  return f.circuit < 0 ? f.cell : "circuit[" + std::to_string(f.circuit) + "]." + f.cell;
}

bool takes_an_answer(const Shape& shape) {
  if (shape.kind == View::Kind::list) return shape.type == "list of texts";
  return shape.kind == View::Kind::text || shape.kind == View::Kind::flag ||
         shape.kind == View::Kind::date;
}

const Shape* shape_at(const std::string& path) {
  const Shape* shape = record::job_shape().at(shape_path(toml_path(path)));
  return shape != nullptr && takes_an_answer(*shape) ? shape : nullptr;
}

/// A finding about a table as a whole asks for each of these keys.
std::vector<std::string> keys_within(const std::string& path, const Workspace& w) {
  std::vector<std::string> out;
  if (path.ends_with(".cable")) {
    const auto step = toml_path(path).front();
    const auto& cable = w.job.circuits[static_cast<std::size_t>(step.index)].cable;
    if (!cable.line) out.push_back(path + ".line");
    if (!cable.cpc) out.push_back(path + ".cpc");
  } else if (path == "inspection") {
    for (const auto& item : record::inspection_items())
      out.push_back("inspection." + std::string(item.key));
  }
  return out;
}

bool asks(const Finding& f) {
  if (f.verdict == Verdict::missing) return true;
  const checks::Step step = checks::step_of(f);
  const bool reading = step == checks::Step::isolate || step == checks::Step::dead ||
                       step == checks::Step::live || step == checks::Step::origin;
  return reading && f.verdict == Verdict::fail;
}

void add(std::vector<Question>& out, const Finding& f, const std::string& path) {
  const Shape* shape = shape_at(path);
  if (shape == nullptr) return;
  for (const Question& q : out)
    if (q.path == path) return;
  Question q{f, checks::step_of(f), path, shape, f.verdict != Verdict::missing};
  if (path != path_of(f)) {
    q.finding.subject = shape->help;
    char& first = q.finding.subject.front();
    if (first >= 'a' && first <= 'z') first = static_cast<char>(first - 'a' + 'A');
  }
  out.push_back(std::move(q));
}

std::string lower_of(std::string_view text) {
  return ascii_lower(trim(text));
}

std::string flag(std::string_view typed) {
  const std::string word = lower_of(typed);
  for (const char* yes : {"y", "yes", "true", "ok", "x"})
    if (word == yes) return "true";
  for (const char* no : {"n", "no", "false"})
    if (word == no) return "false";
  return toml_text(std::string(trim(typed)));
}

std::string two(int n) {
  return (n < 10 ? "0" : "") + std::to_string(n);
}

/// "9:12", "now", "today"; anything else as it stands.
std::string moment(const Shape& shape, std::string_view typed, const DateTime& now, Date day) {
  const std::string word = lower_of(typed);
  const bool time = shape.type == "date and time";
  if (word == "now" || word == "today") return time ? now.iso() : now.date.iso();
  if (!time) return Date::parse(word) ? word : toml_text(trim(typed));
  const auto parts = split(word, ':');
  const auto small = [](std::string_view s) -> std::optional<int> {
    const auto n = Decimal::parse(s);
    if (!n || n->scale() != 0 || n->is_negative() || s.size() > 2) return std::nullopt;
    return static_cast<int>(n->mantissa());
  };
  if (parts.size() == 2 && small(parts[0]) && small(parts[1])) {
    const auto at = DateTime::parse(day.iso() + "T" + two(*small(parts[0])) + ":" +
                                    two(*small(parts[1])) + ":00");
    if (at) return at->iso();
  }
  const auto whole = DateTime::parse(trim(typed));
  return whole ? whole->iso() : toml_text(trim(typed));
}

std::string word_of(const Shape& shape, std::string_view typed) {
  const std::string word = lower_of(typed);
  const auto number = Decimal::parse(word);
  const bool index = number && number->scale() == 0 && !number->is_negative() &&
                     !number->is_zero() &&
                     *number <= Decimal::integer(static_cast<std::int64_t>(shape.words.size()));
  if (index) return toml_text(shape.words[static_cast<std::size_t>(number->mantissa() - 1)]);
  return toml_text(trim(typed));
}

/// Texts that are separated by commas, each perhaps by its number.
std::string list_of(const Shape& shape, std::string_view typed) {
  std::string out;
  for (const std::string_view one : split(typed, ','))
    if (!trim(one).empty()) out += (out.empty() ? "" : ", ") + word_of(shape, one);
  return "[" + out + "]";
}

bool is_number(std::string_view text) {
  return Decimal::parse(text).has_value() && text.front() != '-';
}

/// A reading: a plain figure as a number; with the unit behind it, without.
std::string reading(const Shape& shape, std::string_view typed) {
  std::string_view text = trim(typed);
  if (text.starts_with('{')) return std::string(text);
  const std::string lower = ascii_lower(text);
  for (const std::string_view unit :
       {std::string_view(shape.unit), std::string_view("ohms"), std::string_view("ohm")}) {
    const bool ohm = unit != shape.unit;
    if (unit.empty() || (ohm && shape.unit != "Ω") || text.size() <= unit.size()) continue;
    if (!lower.ends_with(ascii_lower(unit))) continue;
    const std::string_view bare = trim(text.substr(0, text.size() - unit.size()));
    ReadingFault fault;
    if (parse_reading(bare, fault)) text = bare;
  }
  return is_number(text) ? std::string(text) : toml_text(text);
}

/// A checklist's item: yes, no, or a reason.
std::string item(std::string_view typed) {
  const std::string lower = lower_of(typed);
  if (lower.starts_with("n/a") || lower.starts_with("lim")) return toml_text(trim(typed));
  return flag(typed);
}

/// Reads the new text, then puts it in the place of the file.
Saved store(Workspace& w, const std::string& text, Diagnostics& out) {
  Sources sources;
  Diagnostics found;
  const SourceId source = sources.add(w.job_path.string(), text);
  auto job = record::read_job(sources, source, w.job.folder_name, found);
  if (job) record::check_references(*job, w.installer, found);
  if (!found.ok()) {
    for (const Diagnostic& d : found.all()) out.add(d).span = {};
    return Saved::not_taken;
  }
  switch (replace_file(w.job_path, w.job_bytes, text, out)) {
    case Replaced::changed:
      return Saved::changed;
    case Replaced::failed:
      return Saved::failed;
    case Replaced::yes:
      break;
  }
  w.job = std::move(*job);
  w.job_bytes = text;
  return Saved::yes;
}

}  // namespace

std::vector<Question> open_questions(const Workspace& w, const checks::Report& report) {
  std::vector<Question> out;
  for (const Finding& f : report.findings) {
    if (!asks(f)) continue;
    const std::string path = path_of(f);
    const auto within = keys_within(path, w);
    for (const std::string& key : within) add(out, f, key);
    if (within.empty()) add(out, f, path);
  }
  std::stable_sort(out.begin(), out.end(), [](const Question& a, const Question& b) {
    const auto key = [](const Question& q) {
      return std::tuple(q.step, q.finding.circuit, checks::place_in_step(q.finding));
    };
    return key(a) < key(b);
  });
  return out;
}

std::vector<Finding> not_asked(const checks::Report& report) {
  std::vector<Finding> out;
  for (const Finding& f : report.findings) {
    const std::string path = path_of(f);
    if (f.verdict == Verdict::missing && !path.ends_with(".cable") && path != "inspection" &&
        shape_at(path) == nullptr)
      out.push_back(f);
  }
  return out;
}

std::string toml_answer(const Shape& shape, std::string_view typed, const DateTime& now, Date day) {
  if (shape.kind == View::Kind::list) return list_of(shape, typed);
  if (shape.kind == View::Kind::date) return moment(shape, typed, now, day);
  if (shape.kind == View::Kind::flag)
    return shape.type == "true or false" ? flag(typed) : item(typed);
  if (!shape.words.empty()) return word_of(shape, typed);
  if (!shape.unit.empty() || shape.type == "number") return reading(shape, typed);
  return toml_text(trim(typed));
}

Saved save_answer(Workspace& w, const std::string& path, const std::string& value,
                  Diagnostics& out) {
  const auto text = edit_toml(w.job_bytes, toml_path(path), value, job_key_order);
  if (!text) {
    out.error(
        "cannot-edit", {},
        path + " could not be put into " + w.job_path.string() + " without touching anything else",
        {"Write it by hand: " + toml_path(path).back().key + " = " + value + "."});
    return Saved::not_taken;
  }
  return store(w, *text, out);
}

Saved save_confirmation(Workspace& w, const Finding& f, const std::string& reason,
                        const std::string& by, Diagnostics& out) {
  const bool open = !w.job_bytes.empty() && !w.job_bytes.ends_with('\n');
  std::string text = w.job_bytes + (open ? "\n" : "") + "\n[[confirmation]]\n";
  text += "check   = " + toml_text(f.check) + "\n";
  if (f.circuit >= 0) {
    const record::Circuit& c = w.job.circuits[static_cast<std::size_t>(f.circuit)];
    if (c.board) text += "board   = " + toml_text(*c.board) + "\n";
    text += "circuit = " + toml_text(c.ref.value_or("")) + "\n";
  }
  text += "reason  = " + toml_text(trim(reason)) + "\n";
  text += "by      = " + toml_text(by) + "\n";
  const std::size_t before = w.job.confirmations.size();
  const Saved saved = store(w, text, out);
  // What stands at the end of the file is a table of its own, and changes nothing above it.
  if (saved == Saved::yes && w.job.confirmations.size() != before + 1)
    out.error("cannot-edit", {}, "the confirmation did not arrive in " + w.job_path.string());
  return saved;
}

std::vector<std::string> job_key_order(const TomlPath& table) {
  const Shape* shape =
      table.empty() ? &record::job_shape() : record::job_shape().at(shape_path(table));
  std::vector<std::string> out;
  if (shape != nullptr)
    for (const Shape& member : shape->members) out.push_back(member.name);
  return out;
}

}  // namespace ohmleaf::app
