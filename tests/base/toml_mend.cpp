#include "base/support.h"

namespace ohmleaf {
namespace {

struct Slip {
  std::string line;  ///< the second of three
  std::string told;
  std::string hint;
};

}  // namespace

TEST_CASE("slips within a line are named, passed over, and the rest is read") {
  const Slip slips[] = {
      {"r1 = 0,32", "2:7 decimal-comma: a decimal comma stands where a point is needed",
       "Write 0.42, not 0,42."},
      {"i = { volts = 500, live = 1,5 }",
       "2:28 decimal-comma: a decimal comma stands where a point is needed",
       "Write 0.42, not 0,42."},
      {"d = 2026-02-30 # day", "2:5 impossible-date: \"2026-02-30\" is not a date that exists",
       "Write year, month and day, for example 2026-11-20."},
      {"d = 1/2/2026", "2:5 impossible-date: a date is written year, month, day",
       "Write 2026-02-01."},
      {"d = 2026-11-20 9:12", "2:5 impossible-time: \"2026-11-20 9:12\" is no date and time",
       "Write it like 2026-11-20T09:12:00, with two digits each."},
      {"zs = 0.42 ohm", "2:6 unit-behind-number: text stands behind the number 0.42",
       "Where the unit is known, leave it out: zs = 0.42. Text stands in quotation marks: \"0.42 "
       "ohm\"."},
      {"zs = 10Ω", "2:6 unit-behind-number: text stands behind the number 10",
       "Where the unit is known, leave it out: zs = 10. Text stands in quotation marks: \"10Ω\"."},
      {"r = >999", "2:5 no-quotes: \">999\" stands without quotation marks", "Write r = \">999\"."},
      {"r = N/A: no cpc # why", "2:5 no-quotes: \"N/A: no cpc\" stands without quotation marks",
       "Write r = \"N/A: no cpc\"."},
      {"locked = True", "2:10 flag-form: \"True\" is not written like that",
       "Write locked = true, in small letters."},
      {"locked = no", "2:10 flag-form: \"no\" is not written like that",
       "Write locked = false, in small letters."},
      {"c = \"A. Nother", "2:5 open-quote: the quotation mark that opens here is not closed",
       "Close the text with the same mark in the same line."},
      {"c = 'A. Nother", "2:5 open-quote: the quotation mark that opens here is not closed",
       "Close the text with the same mark in the same line."},
      {"r = .5", "2:5 number-form: a number begins with a digit", "Write r = 0.5."},
      {"r = 5.", "2:5 number-form: a number does not end with a point", "Write r = 5."},
      {"t = 01632", "2:5 number-form: a number does not begin with a spare 0",
       "Text such as a telephone number stands in quotation marks."},
      {"r =", "2:3 no-value: \"r\" has no value",
       "Write it behind the equals sign, or take the line out."},
      {"a = 2", "2:1 duplicate-key: this key stands twice in the same table",
       "Take one of the two lines out."},
  };
  for (const Slip& slip : slips) {
    CAPTURE(slip.line);
    const std::string text = "a = 1\n" + slip.line + "\nz = \"Ω\"\n";
    const Parsed mended = parse_mending(text);
    CHECK(mended.all() == slip.told);
    CHECK(mended.hint() == slip.hint);
    REQUIRE(mended.root);
    CHECK(mended.root->find("a")->text == "1");
    CHECK(!mended.root->find("a")->mended);
    REQUIRE(mended.root->find("z"));
    CHECK(mended.root->find("z")->text == "Ω");
    CHECK(mended.slice(mended.root->find("z")) == "\"Ω\"");
    const Parsed strict = parse(text);
    CHECK(!strict.root);
    CHECK(strict.all() == slip.told);
  }
}

TEST_CASE("the stand-in is marked where it stands, and nowhere else") {
  const Parsed p = parse_mending("a = { b = 1, c = 0,5 }\nd = >9\ne = 2\n");
  REQUIRE(p.root);
  CHECK(!p.root->find("a")->mended);
  CHECK(!p.root->find("a")->find("b")->mended);
  CHECK(p.root->find("a")->find("c")->mended);
  CHECK(p.root->find("d")->mended);
  CHECK(!p.root->find("e")->mended);
}

TEST_CASE("what opens and does not close is shown where it opens, and ends the reading") {
  struct Row {
    std::string text, told;
  };
  const Row rows[] = {
      {"a = 1\nb = [1, 2\nc = 3\n",
       "2:5 not-closed: the bracket that opens here is not closed properly"},
      {"a = 1\nb = \"\"\"x\nc = 3\n",
       "2:5 not-closed: the text that opens here is not closed properly"},
      {"a = 1\nb = \"\"\"x\n\\q \"\"\"\n",
       "2:5 not-closed: the text that opens here is not closed properly"},
      {"[a]\n[b]\n[a]\n", "3:1 duplicate-key: this heading stands twice"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const Parsed p = parse_mending(row.text);
    CHECK(!p.root);
    CHECK(p.all() == row.told);
  }
}

TEST_CASE("a list with commas is no decimal comma") {
  const Parsed p = parse_mending("a = [1,2\n3]\n");
  CHECK(p.all().find("decimal-comma") == std::string::npos);
  CHECK(parse("a = [1,2]\nb = { c = [3,4] }\n").root);
  CHECK(parse("a = \"0,42\" # 0,42\n").root);
}

TEST_CASE("a line that is no key and value is said, and left out") {
  const Parsed p = parse_mending("a = 1\njust words\nz = 2\n");
  CHECK(p.out.all().size() == 1);
  CHECK(p.out.all()[0].id == "toml-syntax");
  const Parsed lots = parse_mending([] {
    std::string text;
    for (int i = 0; i < 500; ++i) text += "k" + std::to_string(i) + " = 0,5\n";
    return text;
  }());
  CHECK(!lots.root);  // after a hundred slips it is another kind of file
  CHECK(lots.out.all().size() == 101);
}

}  // namespace ohmleaf
