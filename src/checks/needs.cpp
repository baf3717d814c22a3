#include "checks/needs.h"

#include <algorithm>

#include "checks/site_sheet.h"

namespace ohmleaf::checks {
namespace {

template <class T>
record::Field<T> field(T value) {
  record::Field<T> out;
  out.value = std::move(value);
  return out;
}

record::Texts texts(const std::vector<std::string>& words) {
  record::Texts out;
  for (const std::string& w : words) out.push_back(field(w));
  return out;
}

record::Job job_of(const CircuitAsked& asked) {
  record::Job job;
  job.kind = field(asked.is_new ? record::JobKind::installation : record::JobKind::minor_works);
  job.date = field(asked.date);
  job.supply.earthing = field(asked.earthing);
  if (asked.three_phase) job.supply.phases = field(Decimal::integer(3));
  record::Circuit c;
  c.ref = field(std::string("1"));
  c.name = field(std::string("The circuit"));
  c.type = field(asked.type);
  c.is_new = field(asked.is_new);
  c.device = field(asked.device);
  if (asked.rcd) c.rcd = field(*asked.rcd);
  c.feeds = texts(asked.feeds);
  c.places = texts(asked.places);
  if (asked.three_phase) c.phase = field(std::string("three-phase"));
  job.circuits.push_back(std::move(c));
  return job;
}

/// What to do, without the sentence that stops a live test while a dead one is open: here nothing
/// is open, and the order says it.
std::string how_of(const Finding& f) {
  const std::size_t then = f.action.find("), then: ");
  return then == std::string::npos ? f.action : f.action.substr(then + 9);
}

const CheckInfo* check_of(const Finding& f) {
  for (const CheckInfo& c : all_checks())
    if (c.id == f.check) return &c;
  return nullptr;
}

bool is_of_the_tests(const Finding& f) {
  return f.stage == Stage::before || f.stage == Stage::isolation || f.stage == Stage::dead ||
         f.stage == Stage::live;
}

}  // namespace

std::vector<Need> needs_of(const CircuitAsked& asked) {
  const Report report = check(job_of(asked), {});
  std::vector<Need> out;
  for (const Finding* f : missing_in_order(report)) {
    if (!is_of_the_tests(*f)) continue;
    const bool known = std::any_of(out.begin(), out.end(),
                                   [&](const Need& n) { return n.key == f->cell; });
    const CheckInfo* info = check_of(*f);
    if (known || info == nullptr) continue;
    out.push_back({f->stage, f->cell, f->subject, f->limit, how_of(*f), std::string(info->says),
                   f->source.empty() ? std::string(info->source) : f->source});
  }
  return out;
}

std::string_view name(Stage stage) {
  switch (stage) {
    case Stage::paper:
      return "paper";
    case Stage::before:
      return "before touching";
    case Stage::isolation:
      return "isolation";
    case Stage::fitting:
      return "fitting";
    case Stage::dead:
      return "dead tests";
    case Stage::live:
      return "live tests";
    case Stage::setting_up:
      return "setting up";
    case Stage::handover:
      return "handover";
  }
  return "";
}

}  // namespace ohmleaf::checks
