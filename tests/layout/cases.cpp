#include "layout/support.h"

namespace ohmleaf::layout::test {
namespace {

using checks::Finding;
using checks::Verdict;
using record::Measured;

template <class Q>
Measured<Q> reading(const char* written) {
  Measured<Q> out;
  Reading<Q> r;
  const std::string_view w = written;
  r.text = written;
  if (w.starts_with(">")) {
    r.kind = ReadingKind::above;
    r.value = Q(*Decimal::parse(w.substr(1)));
  } else if (w.starts_with("N/A")) {
    r.kind = ReadingKind::not_applicable;
    r.reason = "plastic pipe";
  } else {
    r.value = Q(*Decimal::parse(w));
  }
  out.value = r;
  return out;
}

record::Flag flag(bool value) {
  record::Flag out;
  out.value = value;
  return out;
}

template <class T>
record::Field<T> field(T value) {
  record::Field<T> out;
  out.value = value;
  return out;
}

Finding finding(int circuit, std::string cell, Verdict verdict, std::string limit, int used) {
  Finding f;
  f.check = "test";
  f.circuit = circuit;
  f.cell = std::move(cell);
  f.verdict = verdict;
  f.subject = "Zs";
  f.message = "Zs 0.43 Ω is judged";
  f.reading = "0.43 Ω";
  f.limit = std::move(limit);
  f.derivation = "230 V × 0.95 ÷ 160 A = 1.3656 Ω";
  f.source = "a source, Table 1";
  f.provenance = limits::Provenance::memory;
  f.action = "Look for the loose joint.";
  f.used_permille = used;
  return f;
}

record::Circuit plain_circuit(const std::string& ref) {
  record::Circuit c;
  c.board = text("CU1");
  c.ref = text(ref);
  c.name = text("Workshop socket-outlets");
  c.type = field(record::CircuitType::ring_final);
  limits::DeviceFault fault;
  c.device = field(*limits::parse_device("RCBO B32, 30 mA type A, 6 kA", fault));
  c.cable.line = field(SquareMm(*Decimal::parse("2.5")));
  c.cable.cpc = field(SquareMm(*Decimal::parse("1.5")));
  c.cable.length = field(Metres(*Decimal::parse("40")));
  c.dead.r1 = reading<Ohms>("0.32");
  c.dead.rn = reading<Ohms>("0.33");
  c.dead.r2 = reading<Ohms>("0.52");
  c.dead.r1r2 = reading<Ohms>("0.21");
  c.dead.insulation.live_live = reading<Megohms>(">999");
  c.dead.insulation.live_earth = reading<Megohms>(">999");
  c.dead.polarity = flag(true);
  c.live.polarity = flag(true);
  c.live.zs = reading<Ohms>("0.43");
  c.live.rcd.trip_ms = reading<Millis>("24");
  c.live.rcd.test_button = flag(true);
  record::Accessory a;
  a.item = text("socket-radio-2");
  a.where = text("workshop, by the window");
  a.box_mm = field(Millimetres(Decimal::integer(35)));
  a.joined = flag(true);
  a.function_tested = flag(true);
  c.accessories.push_back(a);
  return c;
}

std::string random_text(Dice& dice) {
  static const std::vector<std::string> words{"socket-outlet",
                                              "kitchen",
                                              "Llanfairpwllgwyngyll",
                                              "cegin",
                                              "gweithdy",
                                              "trydanol",
                                              "Łazienka",
                                              "żółty",
                                              "źródło",
                                              "ścianą",
                                              "Seomra",
                                              "sábháilteacht",
                                              "ceangailteán",
                                              "ŵy",
                                              "0.42",
                                              "by the back door",
                                              "N/A",
                                              "(R1+R2)",
                                              "a/b",
                                              "1,000",
                                              "½",
                                              "Ω"};
  switch (dice.below(12)) {
    case 0:
      return {};
    case 1:
      return std::string(static_cast<std::size_t>(40 + dice.below(200)), 'w');
    case 2:
      return "two\nlines\n\nand a gap\ttab";
    case 3: {
      std::string out;
      while (out.size() < 2'000) out += words[static_cast<std::size_t>(dice.below(22))] + " ";
      return out;
    }
    default:
      break;
  }
  std::string out;
  const int n = 1 + dice.below(14);
  for (int i = 0; i < n; ++i)
    out += (i ? " " : "") +
           words[static_cast<std::size_t>(dice.below(static_cast<int>(words.size())))];
  return out;
}

/// At most one very long text among these.
record::Text some_text(Dice& dice, bool& long_left) {
  std::string t = random_text(dice);
  if (t.size() > 1'000) {
    if (!long_left) t.resize(120);
    long_left = false;
    while (!t.empty() && (static_cast<unsigned char>(t.back()) & 0x80u)) t.pop_back();
  }
  return text(std::move(t));
}

void judge_at_random(Case& c, Dice& dice) {
  static const std::vector<std::string> cells{"live.zs",          "dead.insulation.live_earth",
                                              "live.rcd.trip_ms", "dead.R1R2",
                                              "live.pfc",         "accessory[0].box_mm"};
  const auto verdict = [&] { return static_cast<Verdict>(dice.below(7)); };
  for (int i = 0; i < static_cast<int>(c.job.circuits.size()); ++i)
    for (const std::string& cell : cells) {
      if (dice.one_in(3)) continue;
      const Verdict v = dice.one_in(4) ? verdict() : Verdict::pass;
      c.report.findings.push_back(
          finding(i, cell, v, dice.one_in(6) ? "" : "≤ 1.37 Ω", dice.below(1'600)));
      c.report.verdict = std::max(c.report.verdict, v);
    }
}

}  // namespace

std::uint64_t Dice::next() {
  state_ ^= state_ << 13;
  state_ ^= state_ >> 7;
  state_ ^= state_ << 17;
  return state_;
}

Case plain_case() {
  Case c;
  c.job.kind = field(record::JobKind::minor_works);
  c.job.date = field(Date{2026, 11, 20});
  c.job.person = text("rh");
  c.job.premises = text("Flat 2, 9 Tallow Yard, Brindle Cross BX4 7QN");
  c.job.client = text("M. Okonjo-Pryce");
  c.job.work = text("Added a radio-connected socket-outlet to the workshop ring.");
  c.job.supply.earthing = field(limits::Earthing::tn_c_s);
  c.job.supply.ze = reading<Ohms>("0.21");
  c.job.bonding.water = reading<SquareMm>("10");
  c.job.bonding.gas = reading<SquareMm>("N/A");
  c.job.circuits.push_back(plain_circuit("3"));
  record::Person rh;
  rh.id = "rh";
  rh.name = text("Rosalind Hobday");
  rh.role = text("Electrician");
  c.installer.people.push_back(rh);
  c.installer.firm.name = text("Hobday Lane Electrical");
  record::CatalogueItem item;
  item.id = "socket-radio-2";
  item.name = text("Radio-connected double socket-outlet");
  c.installer.catalogue.push_back(item);
  record::Instrument mft;
  mft.id = "mft-1";
  mft.kind = text("multifunction tester");
  mft.serial = text("LM6-20418");
  mft.calibration_due = field(Date{2027, 3, 16});
  c.installer.instruments.push_back(mft);
  c.report.findings.push_back(finding(0, "live.zs", Verdict::pass, "≤ 1.37 Ω", 314));
  c.report.findings.push_back(finding(-1, "supply.ze", Verdict::pass, "≤ 0.35 Ω", 600));
  c.facts.draft = false;
  c.facts.number = "HL-0017";
  c.facts.issued = "2026-11-21";
  c.facts.chain_head = "9f2c41d07be85a3316c2f04ad9e7b518";
  c.facts.program = "ohmleaf test";
  return c;
}

Case random_case(std::uint64_t seed, int circuits) {
  Dice dice(seed);
  Case c = plain_case();
  c.facts.draft = dice.one_in(2);
  bool long_left = true;
  c.job.premises = some_text(dice, long_left);
  c.job.client = some_text(dice, long_left);
  c.job.work = some_text(dice, long_left);
  long_left = true;
  c.job.existing = some_text(dice, long_left);
  c.installer.firm.address = some_text(dice, long_left);
  c.job.circuits.clear();
  for (int i = 0; i < circuits; ++i) {
    record::Circuit circuit = plain_circuit(std::to_string(i + 1));
    long_left = i % 5 == 0;
    circuit.name = some_text(dice, long_left);
    circuit.board = some_text(dice, long_left);
    if (circuit.board->size() > 60) circuit.board = text("CU1");
    for (int k = dice.below(3); k > 0; --k) circuit.feeds.push_back(some_text(dice, long_left));
    circuit.cable.method = some_text(dice, long_left);
    if (circuit.cable.method->size() > 60) circuit.cable.method = text("C");
    if (dice.one_in(3)) circuit.live.rcd = {};
    if (dice.one_in(5)) circuit.dead = {};
    circuit.accessories.front().where = some_text(dice, long_left);
    circuit.accessories.front().note = some_text(dice, long_left);
    if (dice.one_in(2)) circuit.accessories.clear();
    c.job.circuits.push_back(std::move(circuit));
  }
  for (int k = dice.below(4); k > 0; --k) {
    record::Control control;
    control.item = text("unknown-button");
    control.where = some_text(dice, long_left);
    c.job.controls.push_back(control);
    record::Departure departure;
    departure.what = some_text(dice, long_left);
    c.job.departures.push_back(departure);
  }
  judge_at_random(c, dice);
  return c;
}

}  // namespace ohmleaf::layout::test
