#include "cases.h"

#include <iterator>
#include <set>
#include <string>

namespace bench {

std::vector<Case> all_cases() {
  std::vector<Case> out;
  for (const auto& theme :
       {zs_cases(), rcd_cases(), supply_cases(), isolation_cases(), dead_cases(),
        consistency_cases(), believable_cases(), phase_cases(), trap_cases(), ring_point_cases(),
        accessory_cases(), device_cases(), paper_cases()})
    out.insert(out.end(), theme.begin(), theme.end());
  return out;
}

namespace {

Verdict verdict_after(const Case& c) {
  record::Job job = job_of(any_text(c.sample));
  c.change(job);
  return verdict_of(report_of(job), c.check, c.circuit);
}

std::set<std::string> checks_with(Sort sort) {
  std::set<std::string> out;
  for (const Case& c : all_cases())
    if (c.sort == sort) out.insert(c.check);
  return out;
}

}  // namespace

TEST_CASE("every case is judged as it says") {
  for (const Case& c : all_cases()) {
    CAPTURE(std::string(c.check));
    CAPTURE(std::string(c.what));
    CHECK(verdict_after(c) == c.expected);
    if (c.sort == Sort::fails) CHECK(c.expected != Verdict::pass);
    if (c.sort == Sort::fails) CHECK(c.expected != Verdict::not_applicable);
  }
}

TEST_CASE("every check has a failing case, and one that passes or stands exactly at the limit") {
  const auto fails = checks_with(Sort::fails);
  auto good = checks_with(Sort::passes);
  good.merge(checks_with(Sort::at_limit));
  for (const auto& info : ohmleaf::checks::all_checks()) {
    CAPTURE(info.id);
    CHECK(fails.count(std::string(info.id)) == 1);
    CHECK(good.count(std::string(info.id)) == 1);
  }
}

TEST_CASE("every case names a check that exists") {
  std::set<std::string> known;
  for (const auto& info : ohmleaf::checks::all_checks()) known.insert(std::string(info.id));
  for (const Case& c : all_cases()) {
    CAPTURE(c.check);
    CHECK(known.count(c.check) == 1);
  }
}

}  // namespace bench
