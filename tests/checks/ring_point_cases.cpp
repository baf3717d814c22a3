#include <utility>

#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Ohms;
using record::Job;

void points(Job& j, const std::vector<std::pair<const char*, const char*>>& all) {
  for (const auto& [where, ln] : all) {
    record::RingPoint p;
    p.where = text(where);
    p.ln = reading<Ohms>(ln);
    j.circuits[kRing].dead.points.push_back(p);
  }
}
void cpc(Job& j, const char* lc) {
  points(j, {{"by the door", "0.16"}});
  j.circuits[kRing].dead.points[0].lc = reading<Ohms>(lc);
}
}  // namespace

// r1 0.32, rn 0.33: (0.32 + 0.33) ÷ 4 = 0.1625 at every point, 0.05 Ω allowed. r2 0.52: (0.32 +
// 0.52) ÷ 4 = 0.21 in the middle. Ring arithmetic as in tests/data/limits/ring_examples.tsv.
std::vector<Case> ring_point_cases() {
  return {
      {"ring-points", "all alike", Sort::passes, kRing, Verdict::pass,
       [](Job& j) {
         points(j, {{"a", "0.16"}, {"b", "0.16"}, {"c", "0.17"}});
       }},
      {"ring-points", "one high: a spur", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         points(j, {{"a", "0.16"}, {"b", "0.31"}, {"c", "0.16"}});
       }},
      {"ring-points", "exactly 0.05 Ω above", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) {
         points(j, {{"a", "0.16"}, {"b", "0.2125"}, {"c", "0.16"}});
       }},
      {"ring-points", "a spur that is entered", Sort::passes, kRing, Verdict::pass,
       [](Job& j) {
         j.circuits[kRing].accessories[0].connection = field(record::Connection::unfused_spur);
         j.circuits[kRing].accessories[0].where = text("b");
         points(j, {{"a", "0.16"}, {"b", "0.31"}, {"c", "0.16"}});
       }},
      {"ring-points", "side by side: a bridge", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         points(j, {{"a", "0.16"}, {"b", "0.24"}, {"c", "0.26"}, {"d", "0.16"}});
       }},
      {"ring-points", "rising to the middle: not crossed", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         points(j, {{"a", "0.04"}, {"b", "0.12"}, {"c", "0.16"}, {"d", "0.05"}});
       }},
      {"ring-points", "all twice as high: an open leg", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         points(j, {{"a", "0.32"}, {"b", "0.33"}, {"c", "0.33"}});
       }},
      {"ring-points-cpc", "above the middle of the ring", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { cpc(j, "0.27"); }},
      {"ring-points-cpc", "exactly 0.05 Ω above it", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { cpc(j, "0.26"); }},
  };
}

TEST_CASE("the shape of the readings round a ring says what is wrong with it") {
  struct Row {
    std::vector<std::pair<const char*, const char*>> points;
    const char *named, *cause;
  };
  for (const Row& row : std::vector<Row>{
           {{{"a", "0.16"}, {"b", "0.31"}, {"c", "0.16"}}, "(0.31 Ω) stands apart", "a spur"},
           {{{"a", "0.16"}, {"b", "0.24"}, {"c", "0.26"}, {"d", "0.16"}},
            "(0.24 Ω), c (0.26 Ω) stand apart side by side",
            "interconnection"},
           {{{"a", "0.04"}, {"b", "0.16"}, {"c", "0.05"}}, "rise from the ends", "one leg"},
           {{{"a", "0.32"}, {"b", "0.33"}}, "an open leg", "only one way round"}}) {
    Job j = sample("sewing-workshop");
    points(j, row.points);
    const Report r = report_of(j);
    const Finding* f = found(r, "ring-points", kRing);
    REQUIRE(f);
    CHECK_MESSAGE(f->message.find(row.named) != std::string::npos, f->message);
    CHECK_MESSAGE(f->causes.front().find(row.cause) != std::string::npos, f->causes.front());
  }
}

}  // namespace bench
