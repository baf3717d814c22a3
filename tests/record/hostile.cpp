#include <chrono>

#include "record/support.h"

namespace ohmleaf::record {
namespace {

std::string repeated(const std::string& piece, std::size_t bytes) {
  std::string out;
  for (std::size_t i = 0; out.size() < bytes; ++i) {
    std::string one = piece;
    const std::size_t at = one.find('%');
    if (at != std::string::npos) one.replace(at, 1, std::to_string(i));
    out += one;
  }
  return out;
}

}  // namespace

TEST_CASE("more than a job can need is refused at the one too many") {
  std::string circuits;
  for (int i = 0; i < 10'001; ++i)
    circuits +=
        "[[circuit]]\nref = \"" + std::to_string(i + 2) + "\"\nname = \"x\"\ntype = \"radial\"\n";
  CHECK(run_job(kSmallJob + circuits).all() == "40013:1 too-many: circuit has 10002 entries");
  std::string texts = "\"x\"";
  for (int i = 0; i < 200; ++i) texts += ", \"x\"";
  CHECK(run_job(replaced(kSmallJob, "board = \"CU1\"", "feeds = [" + texts + "]")).all() ==
        "11:1010 too-many: feeds has 201 entries");
  CHECK(run_job("format = 1\n" + repeated("# a comment line of some length\n", 17u << 20)).all() ==
        "1:1 file-too-large: the file is larger than 16 MiB");
}

TEST_CASE("a file full of errors is answered soon, and not with all of them") {
  const std::size_t size = 1u << 20;
  const std::string files[] = {
      "format = 1\n" + repeated("key% = 1\n", size),
      "format = 1\n[inspection]\n" + repeated("key% = 1\n", size),
      "format = 1\n[extra]\n" + repeated("key% = 1\n", size),
      "format = 1\n[private]\n" + repeated("key% = 1\n", size),
      "format = 1\n" + repeated("key% = 0,5\n", size),
      "format = 1\n" + repeated("[[circuit]]\nref = 1\n", size),
      "format = 1\n" + repeated("[person.p%]\n", size),
      "format = 1\n" + repeated("[[circuit]]\nref = \"%\"\nname = \"x\"\ntype = \"spur\"\n", size),
      "format = 1\n" + repeated("key% = [" + repeated("1,", 60000) + "]\n", size),
      "format = 1\nfeeds = [" + repeated("'Ω',\n", size) + "]\n",
      "format = 1\n" + repeated("[a%]\n", size),
  };
  for (const std::string& text : files) {
    CAPTURE(text.substr(0, 60));
    const auto begin = std::chrono::steady_clock::now();
    const Run run = run_job(text);
    const auto took = std::chrono::steady_clock::now() - begin;
    CHECK(!run.job);
    CHECK(run.out.all().size() < 700);
    // A second or two on a slow machine; without the bounds it is minutes to hours.
    CHECK(std::chrono::duration_cast<std::chrono::seconds>(took).count() < 60);
  }
}

}  // namespace ohmleaf::record
