#pragma once
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"
#include "base/text.h"
#include "places.h"
#include "record/read.h"

namespace ohmleaf::record {

/// A job as small as one can be, to be spoilt line by line.
inline const std::string kSmallJob =
    "format = 1\n"
    "kind = \"minor works\"\n"
    "date = 2026-11-20\n"
    "person = \"rh\"\n"
    "premises = \"1 High Row\"\n"
    "client = \"A. Nother\"\n"
    "work = \"One socket-outlet.\"\n"
    "[supply]\n"
    "ze = 0.21\n"
    "[[circuit]]\n"
    "board = \"CU1\"\n"
    "ref = \"1\"\n"
    "name = \"Socket-outlets\"\n"
    "type = \"radial\"\n"
    "  [circuit.live]\n"
    "  zs = 0.46\n";

inline std::string replaced(std::string text, const std::string& line, const std::string& by) {
  const std::size_t at = text.find(line + "\n");
  REQUIRE(at != std::string::npos);
  return text.replace(at, line.size(), by);
}

/// "9:6 not-a-reading: the message", as a reader of the terminal would find it.
inline std::string told(const Sources& sources, const Diagnostic& d) {
  std::string out = "-";
  if (d.span.valid()) {
    const LineColumn at = sources.get(d.span.source).line_column(d.span.begin);
    out = std::to_string(at.line) + ":" + std::to_string(at.column);
  }
  return out + " " + d.id + ": " + d.message;
}

struct Run {
  Sources sources;
  Diagnostics out;
  std::optional<Job> job;
  std::optional<Installer> installer;

  std::vector<std::string> told_all() const {
    std::vector<std::string> lines;
    for (const Diagnostic& d : out.all()) lines.push_back(told(sources, d));
    return lines;
  }
  std::string all() const { return join(told_all(), "\n"); }
};

inline Run run_job(const std::string& text, const std::string& folder = "small") {
  Run run;
  const SourceId id = run.sources.add("job.toml", text);
  run.job = read_job(run.sources, id, folder, run.out);
  return run;
}

inline Run run_installer(const std::string& text) {
  Run run;
  const SourceId id = run.sources.add("installer.toml", text);
  run.installer = read_installer(run.sources, id, run.out);
  return run;
}

inline std::string slurp(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE_MESSAGE(in.good(), path.string());
  return std::string(std::istreambuf_iterator<char>(in), {});
}

inline const std::filesystem::path kSamples =
    std::filesystem::path(source_root()) / "samples";
inline const std::vector<std::string> kSampleNames{
    "joinery", "new-board", "old-house", "sewing-workshop", "tired-day", "tt-cottage"};

}  // namespace ohmleaf::record
