#pragma once
#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checks/check.h"
#include "record/read.h"

// What the tests of checks/ share: jobs read from text, and the sound sample as types, so that a
// test changes one thing and says what must be found.

namespace bench {

using ohmleaf::checks::Finding;
using ohmleaf::checks::Report;
using ohmleaf::checks::Verdict;
namespace record = ohmleaf::record;
namespace limits = ohmleaf::limits;

/// The text of samples/NAME/job.toml.
std::string sample_text(std::string_view name);
/// A sound job of sound/NAME.toml, completed with what every job has and the file leaves out.
std::string sound_text(std::string_view name);
std::vector<std::string> sound_names();
/// Of a sample or a sound job.
std::string any_text(std::string_view name);
const record::Installer& installer();
/// Reads a job; the test fails with the messages where it cannot be read.
record::Job job_of(const std::string& text);
/// Nothing where the text is no valid job.
std::optional<record::Job> try_job(const std::string& text);
/// A fresh copy of a sample as types.
record::Job sample(std::string_view name);
Report report_of(const record::Job& job);
/// The text with `from` replaced at its `nth` occurrence (from 1); the test fails where there is
/// none.
std::string replaced(std::string text, std::string_view from, std::string_view to, int nth = 1);

/// The worst finding of a check for a circuit (-1: the job); null where it has none.
const Finding* found(const Report& report, std::string_view check, int circuit);
Verdict verdict_of(const Report& report, std::string_view check, int circuit);

template <class Q>
ohmleaf::record::Measured<Q> reading(std::string_view text) {
  ohmleaf::ReadingFault fault;
  const auto raw = ohmleaf::parse_reading(text, fault);
  REQUIRE(raw.has_value());
  ohmleaf::record::Measured<Q> out;
  out.value = ohmleaf::Reading<Q>{raw->kind, Q(raw->value), raw->text, raw->reason};
  out.span = {1, 0, 1};
  return out;
}
template <class T>
ohmleaf::record::Field<T> field(T value) {
  ohmleaf::record::Field<T> out;
  out.value = std::move(value);
  out.span = {1, 0, 1};
  return out;
}
ohmleaf::record::Field<limits::Device> device(std::string_view text);
inline ohmleaf::record::Text text(std::string s) {
  return field<std::string>(std::move(s));
}
template <class Q>
ohmleaf::record::Field<Q> quantity(std::string_view digits) {
  return field(Q(*ohmleaf::Decimal::parse(digits)));
}

/// The circuits of the sound sample.
inline constexpr int kRing = 0;
inline constexpr int kLighting = 1;

}  // namespace bench

namespace doctest {
template <>
struct StringMaker<ohmleaf::checks::Verdict> {
  static String convert(ohmleaf::checks::Verdict v) {
    return String(std::string(ohmleaf::checks::name(v)).c_str());
  }
};
}  // namespace doctest
