#include <array>

#include "record/job_tables.h"

namespace ohmleaf::record {
namespace {

constexpr auto yes = Required::yes;
constexpr auto no = Required::no;

constexpr std::array<std::string_view, 4> kPhases{"L1", "L2", "L3", "three-phase"};

constexpr std::array<std::string_view, 3> kCpcUses{"protective conductor", "neutral",
                                                   "switched line"};

constexpr bool is_method(std::string_view text) {
  return text.size() <= 8;
}

}  // namespace

template <>
std::span<const Key<Cable>> keys<Cable>() {
  using C = Cable;
  static constexpr std::array table{
      key<&C::line>("line", no, "size of the line conductor"),
      key<&C::cpc>("cpc", no, "size of the protective conductor"),
      key<&C::length>("length", no, "length of the run; often unknown on an existing circuit"),
      key<&C::method>(
          "method", no,
          "reference method of installation: A, B, C, 100 to 103; often unknown on an "
          "existing circuit",
          {.accepts = is_method, .form = "a short name such as C or 100", .pattern = "^.{0,8}$"}),
      key<&C::kind>("kind", no, "kind of cable; flat twin-and-earth where left out"),
  };
  return table;
}

template <>
std::span<const Key<Insulation>> keys<Insulation>() {
  using I = Insulation;
  static constexpr std::array table{
      key<&I::volts>("volts", no, "test voltage: 500, or 250 where electronics stay connected"),
      key<&I::live_live>("live_live", no,
                         "lowest reading between live conductors, or one for each pair on three "
                         "phases: { L1-L2 = \">999\", … }"),
      key<&I::live_earth>("live_earth", no,
                          "lowest reading from live conductors to earth, or one for each: "
                          "{ L1 = \">999\", L2 = \">999\", L3 = \">999\", N = \">999\" }"),
      key<&I::electronics>("electronics", no,
                           "what became of electronic accessories during the test"),
      key<&I::reconnected>("reconnected", no, "what was disconnected for the test is back"),
  };
  return table;
}

template <>
std::span<const Key<RingPoint>> keys<RingPoint>() {
  using P = RingPoint;
  static constexpr std::array table{
      key<&P::where>("where", yes, "where the point is"),
      key<&P::ln>("ln", no, "line to neutral, line and neutral cross-connected"),
      key<&P::lc>("lc", no, "line to protective conductor, the two cross-connected"),
  };
  return table;
}

template <>
std::span<const Key<DeadTests>> keys<DeadTests>() {
  using D = DeadTests;
  static constexpr std::array table{
      key<&D::r1>("r1", no, "ring, line end to end"),
      key<&D::rn>("rn", no, "ring, neutral end to end"),
      key<&D::r2>("r2", no, "ring, protective conductor end to end"),
      key<&D::r1r2>(
          "R1R2", no,
          "line and protective conductor together, highest at any point; or one for each line"),
      key<&D::r2_only>("R2", no, "protective conductor alone, by a long lead"),
      key<&D::ring_crossed>(
          "ring_crossed", no,
          "ring cross-connected and read at every point, line-neutral and line-cpc"),
      key<&D::cross_ln>("cross_ln", no, "highest cross-connected line-neutral reading, if noted"),
      key<&D::cross_lc>("cross_lc", no, "highest cross-connected line-cpc reading, if noted"),
      key<&D::points>("point", no,
                      "one point of the ring, read with the ends cross-connected, in their order "
                      "round the ring"),
      key<&D::insulation>("insulation", no, "insulation resistance"),
      key<&D::polarity>("polarity", no, "polarity proved dead, at every point"),
      key<&D::ambient>("ambient", no, "temperature of the conductors during the test"),
      key<&D::done>("done", no, "when the dead tests were finished"),
      key<&D::instrument>(
          "instrument", no,
          "key of the instrument; the job's first multifunction tester where left out"),
  };
  return table;
}

template <>
std::span<const Key<RcdTests>> keys<RcdTests>() {
  using R = RcdTests;
  static constexpr std::array table{
      key<&R::trip_ms>("trip_ms", no, "time to trip at IΔn, the longer of both half-waves"),
      key<&R::trip_x5_ms>("trip_x5_ms", no,
                          "time to trip at 5 × IΔn, where the edition asks for it"),
      key<&R::half_no_trip>("half_no_trip", no, "it did not trip at half IΔn"),
      key<&R::test_button>("test_button", no, "its test button trips it"),
  };
  return table;
}

template <>
std::span<const Key<LiveTests>> keys<LiveTests>() {
  using L = LiveTests;
  static constexpr std::array table{
      key<&L::energised>("energised", no, "when the circuit was energised, after the dead tests"),
      key<&L::polarity>("polarity", no, "polarity proved live"),
      key<&L::phase_sequence>(
          "phase_sequence", no,
          "the three phases follow in the right turn at the end of the circuit"),
      key<&L::zs>("zs", no,
                  "earth fault loop impedance, highest at any point; or one for each line: "
                  "{ L1 = 0.42, L2 = 0.44, L3 = 0.41 }"),
      key<&L::zs_by>("zs_by", no, "how Zs is known; measured where left out"),
      key<&L::pfc>("pfc", no,
                   "prospective fault current at the board, with its unit: \"1.1 kA\"; or one for "
                   "each line and for three-phase"),
      key<&L::rcd>("rcd", no, "tests of the RCD that protects the circuit"),
      key<&L::rcd_neutral>("rcd_neutral", no,
                           "the neutral comes from the bar of this circuit's own RCD, and from no "
                           "other"),
      key<&L::afdd_button>("afdd_button", no, "test button of the arc-fault device worked"),
      key<&L::functional>("functional", no, "functional tests done"),
      key<&L::instrument>(
          "instrument", no,
          "key of the instrument; the job's first multifunction tester where left out"),
  };
  return table;
}

template <>
std::span<const Key<Accessory>> keys<Accessory>() {
  using A = Accessory;
  static constexpr std::array table{
      key<&A::item>("item", yes, "key of the accessory in installer.toml"),
      key<&A::where>("where", yes, "where it is, so that it is found again"),
      key<&A::connection>("connection", no, "how the point is connected to the circuit"),
      key<&A::box_mm>("box_mm", no, "depth of the box that it sits in"),
      key<&A::neutral>("neutral", no, "a neutral of this circuit is at the point"),
      key<&A::earthed>("earthed", no, "a protective conductor is at the point"),
      key<&A::neutral_from>("neutral_from", no,
                            "reference of the circuit whose neutral is at the point, where it is "
                            "another's: borrowed"),
      key<&A::cpc_used_as>("cpc_used_as", no,
                           "what the protective conductor serves as at the point",
                           {.words = kCpcUses}),
      key<&A::load_kind>("load_kind", no, "what it switches or dims"),
      key<&A::load_w>("load_w", no, "what it switches or dims, in all"),
      key<&A::dimmable>("dimmable", no, "the lamps are dimmable"),
      key<&A::bypass>("bypass", no, "by-pass load fitted at the luminaire"),
      key<&A::fuse>("fuse", no, "fuse of its connection unit"),
      key<&A::joined>("joined", no, "joined to the radio network"),
      key<&A::radio_level>("radio_level", no,
                           "its place was tried for radio level, doors shut, before it was fixed"),
      key<&A::function_tested>("function_tested", no, "tried, and it does what it should"),
      key<&A::serial>("serial", no, "serial number"),
      key<&A::note>("note", no, "anything else about it", {.lines = true}),
  };
  return table;
}

template <>
std::span<const Key<Circuit>> keys<Circuit>() {
  using C = Circuit;
  static constexpr std::array table{
      key<&C::board>("board", no, "name of the board; needed where there are several"),
      key<&C::ref>("ref", yes, "reference at the board: the number of its way"),
      key<&C::name>("name", yes, "what the circuit serves, as the board's list says it"),
      key<&C::type>("type", yes, "how the circuit is laid out"),
      key<&C::is_new>("new", no,
                      "the circuit is new; a new circuit needs an installation certificate"),
      key<&C::device>("device", no,
                      "overcurrent device, as on its label: \"RCBO B32, 30 mA type A, 6 kA\"",
                      {.overcurrent = true}),
      key<&C::rcd>("rcd", no,
                   "an RCD of its own upstream of the device: \"RCCB 63 A, 30 mA type A\"",
                   {.residual = true}),
      key<&C::cable>("cable", no, "the cable"),
      key<&C::feeds>("feeds", no, "what the circuit feeds", {.words = kFeedWords}),
      key<&C::places>("places", no, "where it goes that calls for more care",
                      {.words = kPlaceWords}),
      key<&C::load>("load", no, "design current Ib"),
      key<&C::phase>("phase", no, "phase of a three-phase supply", {.words = kPhases}),
      key<&C::dead>("dead", no, "dead tests"),
      key<&C::live>("live", no, "live tests"),
      key<&C::accessories>("accessory", no, "one accessory fitted on this circuit"),
  };
  return table;
}

}  // namespace ohmleaf::record
