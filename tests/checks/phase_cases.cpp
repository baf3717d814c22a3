#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Kiloamps;
using ohmleaf::Megohms;
using ohmleaf::Ohms;
using record::Job;
constexpr int kJob = -1;
constexpr const char* kSaw = "three-phase";

template <class Split, class Q>
void part(Split& split, std::size_t i, const char* text, Q) {
  if (text)
    split.parts[i] = reading<Q>(text);
  else
    split.parts[i] = {};
  split.divide(split.span, split.key_span);
}
void zs(Job& j, std::size_t line, const char* text) {
  part(j.circuits[0].live.zs, line, text, Ohms());
}
void pfc(Job& j, std::size_t i, const char* text) {
  part(j.supply.pfc, i, text, Kiloamps());
}
void board(Job& j, const char* line, const char* three) {
  auto& at = j.circuits[0].live.pfc;
  for (const std::size_t i : {0u, 1u, 2u}) part(at, i, line, Kiloamps());
  part(at, 3, three, Kiloamps());
}
}  // namespace

// The saw bench: Zs 0.43, 0.44, 0.43; C20 at 230 V × 0.95 ÷ (10 × 20 A) = 1.09 Ω. The
// origin: 1.5, 1.5, 1.6 kA a line, 2.8 kA between lines (√3 × 1.6 = 2.77).
std::vector<Case> phase_cases() {
  return {
      {"zs-overcurrent", "one line over its limit", Sort::fails, 0, Verdict::fail,
       [](Job& j) { zs(j, 1, "1.10"); }, kSaw},
      {"zs-overcurrent", "one line not read", Sort::fails, 0, Verdict::missing,
       [](Job& j) { zs(j, 2, nullptr); }, kSaw},
      {"continuity", "one line not read", Sort::fails, 0, Verdict::missing,
       [](Job& j) { part(j.circuits[0].dead.r1r2, 2, nullptr, Ohms()); }, kSaw},
      {"continuity", "open on one line", Sort::fails, 0, Verdict::fail,
       [](Job& j) { part(j.circuits[0].dead.r1r2, 0, ">99.9", Ohms()); }, kSaw},
      {"insulation-live-live", "one pair too low", Sort::fails, 0, Verdict::fail,
       [](Job& j) { part(j.circuits[0].dead.insulation.live_live, 1, "0.9", Megohms()); }, kSaw},
      {"insulation-live-live", "no neutral at a motor", Sort::passes, 0, Verdict::pass,
       [](Job& j) {
         for (const std::size_t i : {3u, 4u, 5u})
           part(j.circuits[0].dead.insulation.live_live, i, nullptr, Megohms());
       },
       kSaw},
      {"insulation-live-live", "one pair of lines not read", Sort::fails, 0, Verdict::missing,
       [](Job& j) { part(j.circuits[0].dead.insulation.live_live, 2, nullptr, Megohms()); }, kSaw},
      {"insulation-live-earth", "one line too low", Sort::fails, 0, Verdict::fail,
       [](Job& j) { part(j.circuits[0].dead.insulation.live_earth, 2, "0.2", Megohms()); }, kSaw},
      {"phases-alike", "one line a point out", Sort::fails, 0, Verdict::doubtful,
       [](Job& j) { zs(j, 0, "0.043"); }, kSaw},
      {"phases-alike", "a joint in one line", Sort::fails, 0, Verdict::doubtful,
       [](Job& j) { zs(j, 0, "0.61"); }, kSaw},
      // 0.43 + a quarter + 0.05 = 0.5875
      {"phases-alike", "exactly as far as allowed", Sort::at_limit, 0, Verdict::not_applicable,
       [](Job& j) {
         zs(j, 1, "0.43");
         zs(j, 0, "0.5875");
       },
       kSaw},
      {"phases-alike-origin", "one line a point out", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { pfc(j, 0, "0.15"); }, kSaw},
      {"phases-alike-origin", "exactly as far as allowed", Sort::at_limit, kJob,
       Verdict::not_applicable, [](Job& j) { pfc(j, 0, "1.025"); }, kSaw},
      {"fault-current-three-origin", "a line's figure as the three-phase one", Sort::fails, kJob,
       Verdict::doubtful, [](Job& j) { pfc(j, 3, "1.6"); }, kSaw},
      {"fault-current-three-origin", "not measured between lines", Sort::fails, kJob,
       Verdict::missing, [](Job& j) { pfc(j, 3, nullptr); }, kSaw},
      {"fault-current-three-origin", "twice, by the rule of thumb", Sort::passes, kJob,
       Verdict::not_applicable, [](Job& j) { pfc(j, 3, "3.2"); }, kSaw},
      {"fault-current-three-origin", "exactly one and a half times", Sort::at_limit, kJob,
       Verdict::not_applicable, [](Job& j) { pfc(j, 3, "2.4"); }, kSaw},
      {"fault-current-three", "a line's figure as the three-phase one", Sort::fails, 0,
       Verdict::doubtful, [](Job& j) { board(j, "0.5", "0.5"); }, kSaw},
      {"fault-current-three", "exactly one and a half times", Sort::at_limit, 0,
       Verdict::not_applicable, [](Job& j) { board(j, "0.5", "0.75"); }, kSaw},
      {"phase-sequence", "wrong turn", Sort::fails, 0, Verdict::fail,
       [](Job& j) { j.circuits[0].live.phase_sequence = field(false); }, kSaw},
      {"phase-sequence", "not tried", Sort::fails, 0, Verdict::missing,
       [](Job& j) { j.circuits[0].live.phase_sequence = {}; }, kSaw},
      {"phase-sequence", "right turn", Sort::passes, 0, Verdict::pass, [](Job&) {}, kSaw},
      {"phase-sequence", "not asked of one phase", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
      {"phase-sequence-supply", "not tried", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.phase_sequence = {}; }, kSaw},
      {"phase-sequence-supply", "right turn", Sort::passes, kJob, Verdict::pass, [](Job&) {}, kSaw},
      {"zs-sum", "line by line", Sort::fails, 0, Verdict::doubtful,
       [](Job& j) {
         plain_meter(j);
         zs(j, 1, "0.50");
       },
       kSaw},
  };
}

}  // namespace bench
