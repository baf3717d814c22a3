#include "cli/report_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "checks/by_circuit.h"
#include "checks/site_sheet.h"
#include "cli/diagnostic_text.h"

namespace ohmleaf::cli {
namespace {

using checks::Finding;
using checks::Verdict;

constexpr int kVerdictColumn = 13;

Tone tone_of(Verdict v) {
  switch (v) {
    case Verdict::fail:
    case Verdict::missing: return Tone::bad;
    case Verdict::doubtful:
    case Verdict::borderline: return Tone::doubt;
    case Verdict::pass: return Tone::good;
    default: return Tone::quiet;
  }
}

std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return out;
}

class Writer {
 public:
  Writer(const Sources& sources, const Style& style, int width)
      : sources_(sources), style_(style), width_(width) {}
  std::string text;

  void heading(Verdict v, const std::string& title) {
    text += "\n" + style_(tone_of(v), padded(upper(checks::name(v)), kVerdictColumn)) +
            style_(Tone::strong, visible(title)) + "\n";
  }

  void finding(const Finding& f) {
    const std::string mark = f.confirmed_by.empty() ? std::string(checks::name(f.verdict))
                                                    : "confirmed";
    const std::string indent(kVerdictColumn + 2, ' ');
    std::string first = wrapped(visible(f.message), indent, indent, width_);
    first.replace(0, indent.size(), "  " + style_(tone_of(f.verdict), padded(mark, kVerdictColumn)));
    text += first;
    if (!f.limit.empty())
      detail("limit", f.limit + (f.difference.empty() ? "" : "; " + f.difference));
    detail("worked out", f.derivation);
    detail("decided", f.decision);
    detail("source", source_of(f));
    for (std::size_t i = 0; i < f.causes.size(); ++i) detail(i == 0 ? "likely" : "", f.causes[i]);
    detail("next", f.action);
    detail("caution", f.caution);
    if (f.verdict == Verdict::missing) detail("site sheet", checks::site_sheet_place(f));
    if (!f.confirmed_by.empty())
      detail("confirmed", f.confirmed_reason + " (" + f.confirmed_by + ")");
    places(f);
  }

  /// What is not shown: how much of it, and the one reading to keep an eye on.
  void rest(std::size_t passes, std::size_t notes, const Finding* closest) {
    std::string line = fmt::format("{} in order", passes);
    if (notes > 0) line += fmt::format(", {} note{} (--verbose)", notes, notes == 1 ? "" : "s");
    if (closest != nullptr)
      line += fmt::format("; closest to its limit: {} {}, limit {}", closest->subject,
                          closest->reading, closest->limit);
    const std::string indent(kVerdictColumn + 2, ' ');
    text += wrapped(visible(line), indent, indent, width_);
  }

  void pass_line(const Finding& f) {
    std::string line = f.subject + (f.reading.empty() ? "" : "  " + f.reading);
    if (f.verdict == Verdict::note) line = f.message;
    if (!f.limit.empty()) line += "  limit " + f.limit;
    const std::string indent(kVerdictColumn + 2, ' ');
    std::string first = wrapped(visible(line), indent, indent, width_);
    first.replace(0, indent.size(), "  " + style_(tone_of(f.verdict), padded(checks::name(f.verdict), kVerdictColumn)));
    text += first;
    detail("worked out", f.derivation);
    detail("decided", f.decision);
    detail("source", source_of(f));
  }

  void detail(std::string_view label, const std::string& value) {
    if (value.empty()) return;
    const std::string lead(kVerdictColumn + 2, ' ');
    const std::string first = lead + padded(label, 12);
    text += wrapped(visible(value), first, std::string(first.size(), ' '), width_);
  }

 private:
  static std::string source_of(const Finding& f) {
    if (!f.provenance || f.source.empty()) return f.source;
    const bool marked = *f.provenance == limits::Provenance::memory &&
                        f.source.find("memory") == std::string::npos;
    return f.source + (marked ? " (from memory)" : "");
  }

  void places(const Finding& f) {
    if (f.span.valid()) detail("at", place_text(f.span, sources_) + "  " + line_of(f.span));
    for (const Label& l : f.labels)
      if (l.span.valid() && !(l.span == f.span)) detail("see", place_text(l.span, sources_) + "  " + l.text);
  }

  std::string line_of(Span span) const {
    const SourceText& source = sources_.get(span.source);
    std::string line(trim(source.line(source.line_column(span.begin).line)));
    if (const auto hash = line.find(" #"); hash != std::string::npos) line = std::string(trim(line.substr(0, hash)));
    return line.size() > 60 ? std::string() : line;
  }

  const Sources& sources_;
  const Style& style_;
  int width_;
};

std::string circuit_title(const record::Circuit& c) {
  return fmt::format("circuit {}/{}  {}", c.board.value_or("?"), c.ref.value_or("?"),
                     c.name.value_or(""));
}

bool worth_showing(const Finding& f) { return f.verdict >= Verdict::borderline; }

/// What `--verbose` adds: passes with their limits, and notes.
bool worth_adding(const Finding& f) {
  return f.verdict == Verdict::pass || f.verdict == Verdict::note;
}

/// Readings of an instrument, whose closeness to a limit means something.
bool is_reading(const Finding& f) {
  return f.stage == checks::Stage::dead || f.stage == checks::Stage::live;
}

void group(Writer& w, std::span<const Finding* const> findings, const std::string& title,
           const ReportOptions& options) {
  Verdict worst = Verdict::not_applicable;
  std::size_t passes = 0, notes = 0;
  const Finding* closest = nullptr;
  for (const Finding* f : findings) {
    worst = std::max(worst, f->verdict);
    if (f->verdict == Verdict::note) ++notes;
    if (f->verdict != Verdict::pass) continue;
    ++passes;
    if (f->used_permille && is_reading(*f) &&
        (closest == nullptr || *f->used_permille > *closest->used_permille))
      closest = f;
  }
  if (worst == Verdict::not_applicable && passes == 0) return;
  w.heading(worst == Verdict::note ? Verdict::pass : worst, title);
  for (const Finding* f : findings)
    if (worth_showing(*f)) w.finding(*f);
  if (options.verbose) {
    for (const Finding* f : findings)
      if (worth_adding(*f)) w.pass_line(*f);
  } else if (passes > 0) {
    w.rest(passes, notes, closest);
  }
}

/// What is missing, in the order in which it is safe to take it.
std::string todo_text(const record::Job& job, const checks::Report& report, const Style& style,
                      int width) {
  const auto todo = checks::missing_in_order(report);
  if (todo.size() < 2) return {};
  std::string out = style(Tone::strong, "missing, in the safe order of testing") + "\n";
  for (std::size_t i = 0; i < todo.size(); ++i) {
    const Finding& f = *todo[i];
    std::string line = f.subject;
    if (f.circuit >= 0) {
      const auto& c = job.circuits[static_cast<std::size_t>(f.circuit)];
      line = fmt::format("circuit {}/{}: {}", c.board.value_or("?"), c.ref.value_or("?"), f.subject);
    }
    const std::string place = checks::site_sheet_place(f);
    if (!place.empty()) line += "; site sheet, " + place;
    out += wrapped(visible(line), fmt::format("{:>4}. ", i + 1), "      ", width);
  }
  return out + "\n";
}

std::string counted(std::size_t n, std::string_view word) { return fmt::format("{} {}", n, word); }

}  // namespace

std::string verdict_line(const checks::Report& report, const record::Job& job) {
  const checks::Tally all = report.tally();
  std::vector<std::string> parts;
  for (const Verdict v : {Verdict::fail, Verdict::missing, Verdict::doubtful, Verdict::borderline})
    if (const std::size_t n = all.count(v); n > 0) parts.push_back(counted(n, checks::name(v)));
  const std::string counts =
      parts.empty() ? "every reading compared is inside its limit" : join(parts, ", ");
  const bool paper = job.kind && *job.kind == record::JobKind::condition_report;
  if (all.issuable)
    return counts + ": nothing stands in the way of an issue";
  return counts + (paper ? ": answer what blocks before the report is issued"
                         : ": cannot be issued as it stands");
}

std::string report_text(const app::Workspace& w, const checks::Report& report,
                        const Sources& sources, const Style& style, int width,
                        ReportOptions options) {
  Writer out(sources, style, width);
  if (!options.quiet) {
    out.text += style(Tone::strong, visible(w.job.premises.value_or(""), false)) + "\n";
    out.text += fmt::format("{}, limits of {}\n",
                            w.job.date ? w.job.date->words() : std::string("no date"),
                            limits::name(report.edition));
    const checks::ByCircuit found(report);
    std::vector<int> order(w.job.circuits.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = static_cast<int>(i);
    std::vector<Verdict> worst;
    for (const int c : order) worst.push_back(found.worst_of(c));
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      return worst[static_cast<std::size_t>(a)] > worst[static_cast<std::size_t>(b)];
    });
    for (const int c : order)
      group(out, found.of(c), circuit_title(w.job.circuits[static_cast<std::size_t>(c)]), options);
    group(out, found.of(-1), "the job as a whole", options);
    out.text += "\n" + todo_text(w.job, report, style, width);
  }
  out.text += wrapped(verdict_line(report, w.job), "verdict: ", "         ", width);
  return std::move(out.text);
}

}  // namespace ohmleaf::cli
