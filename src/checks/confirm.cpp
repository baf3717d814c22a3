#include "checks/confirm.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "base/text.h"
#include "checks/check.h"

namespace ohmleaf::checks {
namespace {

const CheckInfo* known(std::string_view id) {
  for (const CheckInfo& c : all_checks())
    if (c.id == id) return &c;
  return nullptr;
}

Finding on_paper(Verdict verdict, Span span, std::string message, std::string action) {
  Finding f;
  f.check = "confirmation";
  f.verdict = verdict;
  f.stage = Stage::paper;
  f.cell = "confirmation";
  f.subject = "Confirmation";
  f.message = std::move(message);
  f.action = std::move(action);
  f.span = span;
  f.source = "common practice";
  return f;
}

std::string nearest_hint(std::string_view id) {
  std::vector<std::string_view> ids;
  for (const CheckInfo& c : all_checks()) ids.push_back(c.id);
  const auto near = nearest(id, ids);
  return near ? fmt::format("Did you mean \"{}\"?", *near)
              : std::string("Take the id from the finding that is confirmed.");
}

constexpr int kNoCircuit = -2, kSeveral = -3;

int circuit_index(const record::Job& job, const record::Confirmation& c) {
  if (!c.circuit) return -1;
  int found = kNoCircuit;
  for (std::size_t i = 0; i < job.circuits.size(); ++i) {
    const record::Circuit& known = job.circuits[i];
    if (!known.ref || *known.ref != *c.circuit) continue;
    if (c.board && (!known.board || *known.board != *c.board)) continue;
    found = found == kNoCircuit ? static_cast<int>(i) : kSeveral;
  }
  return found;
}

bool empty(const record::Text& text) {
  return !text || trim(*text).empty();
}

std::string signer(const record::Installer& installer, const record::Text& by) {
  const record::Person* person = installer.person(*by);
  return person && person->name ? *person->name : *by;
}

void apply(const record::Job& job, const record::Installer& installer,
           const record::Confirmation& c, std::vector<Finding>& findings) {
  const Span span = c.check.span.valid() ? c.check.span : c.span;
  if (empty(c.check)) {
    findings.push_back(on_paper(Verdict::missing, span, "A confirmation names no check",
                                "Say which finding it confirms, or take it out."));
    return;
  }
  const CheckInfo* info = known(*c.check);
  if (!info) {
    findings.push_back(
        on_paper(Verdict::missing, span,
                 fmt::format("A confirmation names \"{}\", which is no check", *c.check),
                 nearest_hint(*c.check)));
    return;
  }
  if (empty(c.reason) || empty(c.by)) {
    findings.push_back(on_paper(Verdict::missing, span,
                                fmt::format("The confirmation of \"{}\" lacks its {}", *c.check,
                                            empty(c.reason) ? "reason" : "name"),
                                "Write why the reading is right all the same, and who says so."));
    return;
  }
  const int wanted = circuit_index(job, c);
  if (wanted == kSeveral) {
    findings.push_back(on_paper(
        Verdict::missing, span,
        fmt::format("The confirmation of \"{}\" does not say on which board circuit \"{}\" is",
                    *c.check, *c.circuit),
        "Add board, as the circuit has it."));
    return;
  }
  bool met = false, refused = false;
  for (Finding& f : findings) {
    if (f.check != *c.check || f.circuit != wanted || !blocks_issue(f.verdict)) continue;
    const bool can = f.verdict == Verdict::doubtful && f.confirmable == Confirmable::with_reason;
    (can ? met : refused) = true;
    if (!can) continue;
    f.confirmed_by = signer(installer, c.by);
    f.confirmed_reason = *c.reason;
  }
  if (refused && !met)
    findings.push_back(on_paper(Verdict::doubtful, span,
                                fmt::format("\"{}\" cannot be confirmed away", *c.check),
                                "Cure what it found, then take the confirmation out."));
  else if (!met)
    findings.push_back(on_paper(
        Verdict::note, span, fmt::format("The confirmation of \"{}\" meets no finding", *c.check),
        "Take it out, or check which circuit it names."));
}

}  // namespace

void apply_confirmations(const record::Job& job, const record::Installer& installer,
                         std::vector<Finding>& findings) {
  for (const record::Confirmation& c : job.confirmations) apply(job, installer, c, findings);
}

}  // namespace ohmleaf::checks
