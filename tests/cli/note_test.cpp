#include <doctest/doctest.h>

#include "base/text.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// A job on a ring, begun with `start`, with nothing read yet.
struct Site : World {
  Site() {
    REQUIRE(run({"start", path("site"), "--work", "ring-outlet", "--premises", "9 Example Row",
                 "--client", "A. Client", "--date", "2026-11-20"}) == 0);
  }
  fs::path file() const { return root / "site" / "job.toml"; }
  std::string text() const { return slurp(file()); }
  int note(const std::string& answers) {
    input = answers;
    return run({"note", path("site")});
  }
  bool said(const std::string& words) const { return out.find(words) != std::string::npos; }
  std::size_t place(const std::string& words) const { return out.find(words); }
};

// What is typed on site, in the order in which it is asked for.
const std::string kLook = "2\nBS 88-3, 80 A\nBS EN 60947-3, 100 A, two-pole\n"
                          "RCBO B32, 30 mA type A, 6 kA\n3\n";
const std::string kIsolate = "main switch, CU1\ny\nvi-2\npu-1\nnow\n";
const std::string kOrigin = "16\n10\nN/A: no gas\n0.21\ny\n1.3 kA\n";
const std::string kFit = "2.5\n1.5\nkitchen, by the window\n35\ny\n";
const std::string kDead = "0.32\n0.33\n0.52\ny\n0.22\n>999\n>999\ny\n";
const std::string kInspect = "y\ny\ny\ny\ny\nN/A: none passed\ny\ny\ny\nN/A: no motor\ny\ny\ny\ny\ny\n";
const std::string kLive = "y\n0.44\n24\ny\n";

}  // namespace

TEST_CASE("a whole job is noted through a pipe, in the safe order, and check then has nothing to say") {
  Site s;
  const std::string before = s.text();
  CHECK(s.note(kLook + kIsolate + kOrigin + kFit + kDead + kInspect + kLive + "y\ny\nNone seen.\n") ==
        0);
  CHECK(s.input == "");
  CHECK(s.said("verdict: every reading compared is inside its limit"));
  std::size_t last = 0;
  for (const char* heading :
       {"Look, before anything is touched", "Isolate, lock off, prove dead",
        "Supply, earthing and bonding", "Fitting: isolated", "Dead tests: isolated",
        "Inspection, before energising", "Live tests, only when", "Setting up", "Paper"}) {
    CAPTURE(heading);
    CHECK(s.place(heading) != std::string::npos);
    CHECK(s.place(heading) >= last);
    last = s.place(heading);
  }
  CHECK(s.run({"check", "-q", s.path("site")}) == 0);
  // Every comment of the file is still there, the blanks hold their answers beside them.
  const std::string after = s.text();
  CHECK(after.find("\n  r1 = 0.32                   # Ω; ring, line end to end\n") != std::string::npos);
  CHECK(after.find("\n  zs = 0.44                   # Ω; limit ≤ 1.37 Ω") != std::string::npos);
  CHECK(after.find("  insulation.live_live = \">999\"") != std::string::npos);
  CHECK(after.find("proved_dead = 2026-11-20T09:12:00") != std::string::npos);
  for (const auto line : split(before, '\n'))
    if (line.starts_with("# - ") || line.starts_with("# Isolate"))
      CHECK(after.find(line) != std::string::npos);
}

TEST_CASE("limit and expected value stand before a reading, the verdict behind it, units always") {
  Site s;
  s.note(kLook + kIsolate + kOrigin + kFit + kDead + kInspect + kLive);
  CHECK(s.said("  limit    ≥ 16 mm²\nmm² > 16\npass: 16 mm², limit ≥ 16 mm², exactly at the limit"));
  CHECK(s.said("  expect   about 1.1 kA or more: 230 V ÷ Ze\n"));
  CHECK(s.said("  expect   about 0.52 Ω, from r1 and the sizes\n"));   // 0.32 Ω × 12.10 ÷ 7.41, IEC 60228
  CHECK(s.said("  expect   up to about 0.21 Ω on the ring"));          // (0.32 + 0.52) ÷ 4
  CHECK(s.said("  expect   about 0.43 Ω: Ze 0.21 + (R1+R2) 0.22\nΩ > 0.44\npass: 0.44 Ω, limit ≤ 1.37 Ω"));
  CHECK(s.said("MΩ > >999\npass: >999 MΩ, limit ≥ 1.0 MΩ"));
  for (const auto line : split(s.out, '\n')) {
    CAPTURE(line);
    CHECK(code_point_count(line) <= 80);
  }
}

TEST_CASE("a missing or failed dead test: no live test is offered, and it says to leave it locked off") {
  Site s;
  const char* stop = "Do not energise; leave isolated and locked off.";
  SUBCASE("left open") {
    CHECK(s.note(kLook + kIsolate + kOrigin + kFit + "0.32\n\n0.52\ny\n0.22\n>999\n>999\ny\n" +
                 kInspect + kLive) == 1);
    CHECK(s.said("No live test is offered until that is cured."));
    CHECK(s.said("circuit CU1/3: rn is not recorded"));
  }
  SUBCASE("failed, and kept") {
    CHECK(s.note(kLook + kIsolate + kOrigin + kFit + "0.32\n0.33\n0.52\ny\n0.22\n>999\n0.4\n\ny\n" +
                 kInspect + kLive) == 1);
    CHECK(s.said("fail: Insulation, live to earth 0.4 MΩ is under its limit of 1.0 MΩ by 0.6 MΩ"));
  }
  SUBCASE("failed, and stopped there") {
    CHECK(s.note(kLook + kIsolate + kOrigin + kFit + "0.32\n0.33\n>5\ns\n") == 1);
    CHECK(s.text().find("r2 = \">5\"") != std::string::npos);
  }
  CHECK(s.said(stop));
  CHECK_FALSE(s.said("Live tests"));
  CHECK(s.text().find("\n  zs =") == std::string::npos);
}

TEST_CASE("a failed test is taken again at once, or on the next visit") {
  Site s;
  s.note(kLook + kIsolate + kOrigin + kFit + "0.32\n0.33\n>5\nx\nr\n>6\ns\n");
  CHECK(s.said("Type r, s, or nothing."));
  CHECK(s.text().find("r2 = \">6\"") != std::string::npos);
  CHECK(s.note("0.52\ny\n") == 1);
  CHECK(s.said("now      r2 >6 Ω: the protective conductor loop does not close"));
  CHECK(s.text().find("r2 = 0.52") != std::string::npos);
  CHECK(s.said("Ring, cross-connected"));
}

TEST_CASE("a doubt is confirmed with a reason, in the name of the one who signs") {
  Site s;
  const std::string upto = kLook + kIsolate + kOrigin + kFit;
  // rn stands 0.09 Ω from r1, more than the 0.05 Ω of one ring.
  CHECK(s.note(upto + "0.32\n0.41\nc\n\nx\n0.52\ns\n") == 1);
  CHECK(s.said("doubtful: r1 0.32 Ω and rn 0.41 Ω of one ring differ by 0.09 Ω"));
  CHECK(s.text().find("[[confirmation]]") == std::string::npos);
  Site other;
  CHECK(other.note(upto + "0.32\n0.41\nz\nc\nOne leg is \"longer\"\n0.52\ns\n") == 1);
  CHECK(other.said("Type r, c, s, or nothing."));
  CHECK(other.text().ends_with("\n[[confirmation]]\ncheck   = \"ring-line-neutral\"\nboard   = "
                               "\"CU1\"\ncircuit = \"3\"\nreason  = \"One leg is "
                               "\\\"longer\\\"\"\nby      = \"rh\"\n"));
  CHECK(other.text().find("\n  r2 = 0.52") != std::string::npos);
  other.run({"check", other.path("site")});
  CHECK(other.out.find("confirmed    r1 0.32") != std::string::npos);
}

TEST_CASE("nothing that means touching is offered before it was proved dead") {
  Site s;
  CHECK(s.note(kLook + "main switch\nn\ns\n") == 1);
  CHECK(s.said("Nothing is offered that means touching"));
  CHECK(s.note("y\nvi-2\npu-1\n\n16\n") == 1);
  CHECK(s.said("Do not energise; leave isolated and locked off."));
  CHECK_FALSE(s.said("Supply, earthing and bonding"));
}

TEST_CASE("each answer is saved at once; it stops anywhere and goes on from there") {
  for (const std::string word : {"stop\n", "s\n", "q\n", ""}) {
    CAPTURE(word);
    Site s;
    bool saved = false;
    s.before_line = [&](int line) {
      if (line == 2) saved = s.text().find("main_fuse = \"BS 88-3, 80 A\"") != std::string::npos;
    };
    CHECK(s.note("2\nBS 88-3, 80 A\n" + word) == 1);
    CHECK(saved);
    s.before_line = {};
    CHECK(s.note("") == 1);
    CHECK(s.said("\nMain switch\n"));
    CHECK_FALSE(s.said("Earthing arrangement\n"));
  }
  Site s;
  bool pressed = false;
  s.interrupted = [&] { return pressed; };
  s.before_line = [&](int line) { pressed = line == 1; };
  CHECK(s.note("2\nBS 88-3, 80 A\n") == 130);
  CHECK(s.text().find("\nearthing = \"TN-C-S\"") != std::string::npos);
  CHECK(s.text().find("\nmain_fuse") == std::string::npos);
}

TEST_CASE("a wrong answer says why in the reader's words and is asked for again") {
  Site s;
  s.note("9\ntt\n\nBS 88-9, 80 A\n");
  CHECK(s.said("not saved: earthing: \"9\" is not one of its words"));
  CHECK(s.said("not saved: main_switch") == false);
  const std::string text = s.text();
  CHECK(text.find("earthing = \"tt\"") != std::string::npos);
  s.note("b\n3\n");
  CHECK(s.said("There is nothing before this."));
  Site other;
  other.note("1\nb\n2\n");
  CHECK(other.text().find("\nearthing = \"TN-C-S\"") != std::string::npos);
}

TEST_CASE("? explains a reading: what it is, why it is taken, how, and from where its limit comes") {
  Site s;
  s.note(kLook + kIsolate + kOrigin + kFit + "?\n");
  const auto help = s.out.substr(s.place("Dead tests"));
  for (const char* words : {"why      r1, rn and r2 end to end", "how      Measure the line end to end",
                            "caution  Dead test: isolate", "source   BS 7671 643.2.1",
                            "write    as the instrument shows it"})
    CHECK(help.find(words) != std::string::npos);
}

TEST_CASE("a file that was saved in an editor meanwhile is read again, and neither edit is lost") {
  Site s;
  s.before_line = [&](int line) {
    if (line == 1) REQUIRE(replace_once(s.file(), "A. Client", "B. Client"));
  };
  s.note("2\nBS 88-3, 80 A\nBS 88-3, 63 A\n");
  CHECK(s.said("The file was read again."));
  CHECK(s.text().find("B. Client") != std::string::npos);
  CHECK(s.text().find("main_fuse = \"BS 88-3, 63 A\"") != std::string::npos);
  CHECK(s.text().find("earthing = \"TN-C-S\"") != std::string::npos);
}

TEST_CASE("a job that cannot be read is not touched; a closed output ends it") {
  Site s;
  spit(s.file(), s.text() + "zs = = 1\n");
  const auto before = s.files();
  CHECK(s.note("2\n") == 2);
  CHECK(s.files() == before);
  Site other;
  const auto closed = other.files();
  other.out_open = false;
  CHECK(other.note("2\n") == 3);
  CHECK(other.files() == closed);
}
