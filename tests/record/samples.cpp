#include <algorithm>

#include "record/support.h"

namespace ohmleaf::record {

TEST_CASE("every sample reads, and names only what installer.toml knows") {
  const Run firm = run_installer(slurp(kSamples / "installer.toml"));
  CHECK(firm.all() == "");
  REQUIRE(firm.installer);
  for (const std::string& name : kSampleNames) {
    CAPTURE(name);
    Run run = run_job(slurp(kSamples / name / "job.toml"), name);
    CHECK(run.all() == "");
    REQUIRE(run.job);
    CHECK(run.job->job_id() == name);
    CHECK(check_references(*run.job, *firm.installer, run.out));
    CHECK(run.all() == "");
  }
}

TEST_CASE("the list of samples above is complete") {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(kSamples))
    if (entry.is_directory()) found.push_back(entry.path().filename().string());
  std::sort(found.begin(), found.end());
  CHECK(found == kSampleNames);
}

TEST_CASE("the sewing workshop says what its file says") {
  const Run run = run_job(slurp(kSamples / "sewing-workshop" / "job.toml"), "sewing-workshop");
  REQUIRE(run.job);
  const Job& job = *run.job;
  CHECK(*job.kind == JobKind::minor_works);
  CHECK(*job.date == Date{2026, 11, 20});
  CHECK(job.edition() == limits::Edition::y2026);
  CHECK(*job.supply.earthing == limits::Earthing::tn_c_s);
  CHECK(job.supply.ze->value == Ohms(Decimal(21, 2)));
  CHECK(job.supply.pfc->text == "1.3 kA");
  CHECK(job.supply.pfc->value == Kiloamps(Decimal(13, 1)));
  CHECK(job.supply.main_fuse->standard == limits::DeviceStandard::bs88_3);
  CHECK(job.bonding.oil->kind == ReadingKind::not_applicable);
  CHECK(job.bonding.oil->reason == "no oil in the premises");
  CHECK(job.isolation.proved_dead->iso() == "2026-11-20T09:12:00");
  REQUIRE(job.circuits.size() == 2);
  const Circuit& ring = job.circuits[0];
  CHECK(*ring.type == CircuitType::ring_final);
  CHECK(ring.dead.insulation.live_live->kind == ReadingKind::above);
  CHECK(ring.dead.insulation.live_live->text == ">999");
  CHECK(*ring.dead.insulation.volts == Volts(Decimal::integer(500)));
  CHECK(ring.live.rcd.trip_ms->value == Millis(Decimal::integer(24)));
  REQUIRE(ring.accessories.size() == 5);
  CHECK(*ring.accessories[1].connection == Connection::unfused_spur);
  CHECK(*job.circuits[1].cable.cpc == SquareMm(Decimal(10, 1)));
  CHECK(job.circuits[1].cable.cpc->str() == "1.0");
  REQUIRE(job.controls.size() == 1);
  CHECK(job.controls[0].controls.size() == 2);
  CHECK(job.inspection.size() == inspection_items().size());
  CHECK(job.work->find('\n') == std::string::npos);
}

TEST_CASE("the installer's file says what its samples need") {
  const Run run = run_installer(slurp(kSamples / "installer.toml"));
  REQUIRE(run.installer);
  const Installer& firm = *run.installer;
  REQUIRE(firm.person("rh"));
  CHECK(*firm.person("rh")->name == "Rosalind Hobday");
  CHECK(firm.person("nobody") == nullptr);
  REQUIRE(firm.instrument("mft-2"));
  CHECK(*firm.instrument("mft-2")->calibration_due == Date{2026, 9, 29});
  CHECK(!firm.instrument("pu-1")->calibration_due);
  REQUIRE(firm.item("dimmer-radio"));
  const CatalogueItem& dimmer = *firm.item("dimmer-radio");
  REQUIRE(dimmer.loads.size() == 4);
  CHECK(*dimmer.loads[0].kind == LoadKind::led);
  CHECK(*dimmer.loads[0].least == Watts(Decimal::integer(5)));
  CHECK(firm.private_notes.size() == 1);
}

}  // namespace ohmleaf::record
