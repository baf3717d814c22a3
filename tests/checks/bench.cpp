#include "bench.h"
#include "places.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

namespace bench {
namespace {

std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE_MESSAGE(in.good(), path.string());
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

std::filesystem::path samples() {
  return std::filesystem::path(source_root()) / "samples";
}

std::filesystem::path sound() {
  return std::filesystem::path(source_root()) / "tests" / "checks" / "sound";
}

// What a sound job's file may leave out: the particulars, and everything that was done as always.
constexpr std::pair<std::string_view, std::string_view> kHead[] = {
    {"format", "1"},
    {"kind", "\"minor works\""},
    {"date", "2026-11-20"},
    {"person", "\"rh\""},
    {"premises", "\"4 Alder Rise, Brindle Cross BX4 1AB\""},
    {"client", "\"Orla Pennyfather\""},
    {"work", "\"A point added and tested.\""},
    {"existing", "\"No comments.\""},
    {"nation", "\"England\""},
    {"instruments", "[\"mft-1\", \"vi-2\", \"pu-1\"]"},
};
constexpr std::pair<std::string_view, std::string_view> kTail[] = {
    {"[bonding]", "earthing_conductor = 16\nwater = 10\ngas = 10\n"},
    {"[isolation]",
     "point = \"main switch\"\nlocked = true\nproved_dead = 2026-11-20T09:00:00\n"
     "proving_unit = \"pu-1\"\nindicator = \"vi-2\"\n"},
    {"[inspection]",
     "connections = true\nidentification = true\nrouting = true\nconductor_size = true\n"
     "accessories = true\nfire_barriers = \"N/A: none passed\"\nprotection = true\n"
     "mutual_influence = true\nisolation_switching = true\nundervoltage = \"N/A: no motors\"\n"
     "protective_devices = true\nlabels = true\ndiagrams = true\naccess = true\n"
     "external_influences = true\n"},
};

bool has_line(const std::string& text, std::string_view start) {
  return text.starts_with(start) || text.find("\n" + std::string(start)) != std::string::npos;
}

std::string all_messages(const ohmleaf::Diagnostics& d) {
  std::string out;
  for (const auto& m : d.all()) out += m.message + "\n";
  return out;
}

std::optional<record::Job> read(const std::string& text, std::string& messages) {
  ohmleaf::Sources sources;
  ohmleaf::Diagnostics out;
  const auto id = sources.add("job.toml", text);
  auto job = record::read_job(sources, id, "bench", out);
  if (job && !record::check_references(*job, installer(), out)) job.reset();
  messages = all_messages(out);
  return job;
}

}  // namespace

std::string sample_text(std::string_view name) {
  return file_text(samples() / std::string(name) / "job.toml");
}

std::vector<std::string> sound_names() {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(sound()))
    if (entry.path().extension() == ".toml") out.push_back(entry.path().stem().string());
  std::sort(out.begin(), out.end());
  return out;
}

std::string sound_text(std::string_view name) {
  const std::string own = file_text(sound() / (std::string(name) + ".toml"));
  std::string head, tail;
  for (const auto& [key, value] : kHead)
    if (!has_line(own, std::string(key) + " ="))
      head += std::string(key) + " = " + std::string(value) + "\n";
  for (const auto& [header, body] : kTail)
    if (!has_line(own, header)) tail += "\n" + std::string(header) + "\n" + std::string(body);
  return head + own + tail;
}

std::string any_text(std::string_view name) {
  const bool is_sample = std::filesystem::exists(samples() / std::string(name) / "job.toml");
  return is_sample ? sample_text(name) : sound_text(name);
}

const record::Installer& installer() {
  static const record::Installer known = [] {
    ohmleaf::Sources sources;
    ohmleaf::Diagnostics out;
    const auto id = sources.add("installer.toml", file_text(samples() / "installer.toml"));
    auto read = record::read_installer(sources, id, out);
    REQUIRE_MESSAGE(read.has_value(), all_messages(out));
    record::Person limited;  // signs minor works only
    limited.id = "minor-only";
    limited.name = text("Wilf Ashdown");
    limited.signs = {text("minor works")};
    read->people.push_back(limited);
    return *read;
  }();
  return known;
}

std::optional<record::Job> try_job(const std::string& text) {
  std::string messages;
  return read(text, messages);
}

record::Job job_of(const std::string& text) {
  std::string messages;
  auto job = read(text, messages);
  REQUIRE_MESSAGE(job.has_value(), messages);
  return *job;
}

record::Job sample(std::string_view name) {
  return job_of(sample_text(name));
}

Report report_of(const record::Job& job) {
  return ohmleaf::checks::check(job, installer());
}

std::string replaced(std::string text, std::string_view from, std::string_view to, int nth) {
  std::size_t at = text.find(from);
  for (int i = 1; i < nth && at != std::string::npos; ++i) at = text.find(from, at + from.size());
  REQUIRE_MESSAGE(at != std::string::npos, "nothing to replace: " << from);
  return text.replace(at, from.size(), to);
}

const Finding* found(const Report& report, std::string_view check, int circuit) {
  const Finding* worst = nullptr;
  for (const Finding& f : report.findings)
    if (f.check == check && f.circuit == circuit && (!worst || f.verdict > worst->verdict))
      worst = &f;
  return worst;
}

Verdict verdict_of(const Report& report, std::string_view check, int circuit) {
  const Finding* f = found(report, check, circuit);
  return f ? f->verdict : Verdict::not_applicable;
}

ohmleaf::record::Field<limits::Device> device(std::string_view words) {
  limits::DeviceFault fault;
  const auto d = limits::parse_device(words, fault);
  REQUIRE_MESSAGE(d.has_value(), fault.message);
  return field(*d);
}

}  // namespace bench
