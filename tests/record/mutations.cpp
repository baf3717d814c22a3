#include <random>

#include "record/support.h"

namespace ohmleaf::record {
namespace {

/// One random spoiling of a text: bytes flipped, lines lost, doubled or moved, tails cut off,
/// pieces of TOML thrown in.
std::string spoilt(std::string text, std::mt19937& random) {
  const auto below = [&](std::size_t n) {
    return static_cast<std::size_t>(random() % (n == 0 ? 1 : n));
  };
  static const std::vector<std::string> pieces{
      "\"",  "'",          "\"\"\"", "[",    "]",
      "[[",  "{",          "}",      "=",    ",",
      ".",   "#",          "\n",     "\\",   "nan",
      "1e9", "2026-02-30", "Ω",      "\xff", std::string(1, '\0'),
      "-",   "true",       "0,5",    "\r",   "\xef\xbb\xbf"};
  for (std::size_t n = 1 + below(4); n > 0; --n) {
    const std::size_t at = below(text.size());
    const std::size_t from =
        text.rfind('\n', at) == std::string::npos ? 0 : text.rfind('\n', at) + 1;
    const std::size_t to = std::min(text.find('\n', at), text.size() - 1) + 1;
    switch (below(6)) {
      case 0:
        text[at] = static_cast<char>(random() % 256);
        break;
      case 1:
        if (to > from) text.erase(from, to - from);
        break;
      case 2:
        if (to > from) text.insert(below(text.size()), text.substr(from, to - from));
        break;
      case 3:
        text.insert(at, pieces[below(pieces.size())]);
        break;
      case 4:
        text.erase(at, 1 + below(3));
        break;
      default:
        if (below(8) == 0) text.resize(at);
        break;
    }
    if (text.empty()) text = "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("spoilt samples are refused or read, never worse, and every message has its place") {
  std::mt19937 random(20261120);  // always the same spoilings
  std::size_t refused = 0, accepted = 0;
  const auto look = [&](const Run& run, bool read) {
    CHECK(read == run.out.ok());
    (read ? accepted : refused) += 1;
    for (const Diagnostic& d : run.out.all()) {
      REQUIRE(d.span.valid());
      CHECK(d.span.begin <= d.span.end);
      CHECK(d.span.end <= run.sources.get(1).text().size() + 1);
      CHECK(!d.message.empty());
      CHECK(!d.message.ends_with('.'));
      CHECK(!d.hints.empty());
      CHECK(!first_invalid_utf8(d.message));
    }
  };
  for (const std::string& name : kSampleNames) {
    const std::string text = slurp(kSamples / name / "job.toml");
    for (int i = 0; i < 600; ++i) {
      const std::string bad = spoilt(text, random);
      CAPTURE(bad);
      const Run run = run_job(bad);
      look(run, run.job.has_value());
      if (run.job) CHECK(view_of(*run.job).present());
    }
  }
  const std::string firm = slurp(kSamples / "installer.toml");
  for (int i = 0; i < 600; ++i) {
    const std::string bad = spoilt(firm, random);
    CAPTURE(bad);
    const Run run = run_installer(bad);
    look(run, run.installer.has_value());
  }
  // Both happen, so both paths were walked.
  CHECK(refused > 1000);
  CHECK(accepted > 100);
}

}  // namespace ohmleaf::record
