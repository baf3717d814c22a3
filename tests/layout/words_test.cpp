#include "layout/translation.h"

#include <algorithm>

#include "layout/support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

const std::string kHead = "format = 1\nlanguage = \"cy\"\n";

std::optional<Translation> load(const std::string& text, std::vector<std::string>& said) {
  Sources sources;
  Diagnostics found;
  auto t = load_translation(sources, sources.add("words-cymraeg.toml", text), found);
  said = described(sources, found);
  return t;
}

Translation sound(const std::string& lines) {
  std::vector<std::string> said;
  auto t = load(kHead + lines, said);
  for (const std::string& line : said) FAIL_CHECK(line);
  REQUIRE(t);
  return std::move(*t);
}

/// One wrong file, and what is said of it.
struct Wrong {
  const char* slip;
  std::string text;
  std::string says;  ///< the beginning of the first message, place and all
};

}  // namespace

TEST_CASE("a words file that is wrong is refused with its place") {
  const std::vector<Wrong> all{
      {"no format", "language = \"cy\"\n",
       "words-cymraeg.toml:1:1 words-format the words file does not say its format"},
      {"an unknown format", "format = 7\nlanguage = \"cy\"\n",
       "words-cymraeg.toml:1:10 words-format this words file is of a format that is not known"},
      {"a fail in the words of a pass", kHead + "[words]\npass = \"iawn\"\nfail = \"IAWN\"\n",
       "words-cymraeg.toml:5:8 words-alike \"fail\" would be printed in the same words as \"pass\""},
      {"no language", "format = 1\n", "words-cymraeg.toml:1:1 words-language the words file does"},
      {"no language tag", "format = 1\nlanguage = \"Cymraeg, y\"\n",
       "words-cymraeg.toml:2:12 words-language this is no language tag"},
      {"an unknown key", kHead + "[texts]\n",
       "words-cymraeg.toml:3:2 words-unknown-key a words file has no key \"texts\" | Did you mean "
       "\"text\"?"},
      {"an unknown engine word", kHead + "[words]\npaeg = \"tudalen\"\n",
       "words-cymraeg.toml:4:1 words-unknown-key [words] has no key \"paeg\" | Did you mean "
       "\"page\"?"},
      {"a hole is missing", kHead + "[text]\n\"{} over {}\" = \"{0} dros\"\n",
       "words-cymraeg.toml:4:16 words-hole a hole of the English text is lost"},
      {"a hole twice", kHead + "[text]\n\"{} over\" = \"{0} dros {0}\"\n",
       "words-cymraeg.toml:4:13 words-hole a hole of the English text stands twice"},
      {"a hole too many", kHead + "[text]\n\"{} over\" = \"{0} dros {1}\"\n",
       "words-cymraeg.toml:4:13 words-hole a hole stands here that the English has not"},
      {"a brace left open", kHead + "[text]\n\"{} over\" = \"{0 dros\"\n",
       "words-cymraeg.toml:4:13 words-hole a hole stands here that the English has not"},
      {"numbered holes on the left", kHead + "[text]\n\"{0} over\" = \"{0} dros\"\n",
       "words-cymraeg.toml:4:1 words-hole a hole of the English text is written {}"},
      {"holes side by side", kHead + "[text]\n\"over {}{}\" = \"dros {0}{1}\"\n",
       "words-cymraeg.toml:4:1 words-hole two holes stand side by side"},
      {"holes alone", kHead + "[text]\n\"{}\" = \"{0}\"\n",
       "words-cymraeg.toml:4:1 words-hole a text of holes alone fits everything"},
      {"another number", kHead + "[text]\n\"within 0.4 s\" = \"o fewn 4 s\"\n",
       "words-cymraeg.toml:4:18 words-figure the numbers and signs of the translation are not"},
      {"a turned sign", kHead + "[text]\n\"must be ≤ {}\" = \"rhaid iddo fod ≥ {0}\"\n",
       "words-cymraeg.toml:4:18 words-figure the numbers and signs of the translation are not"},
      {"a lost ohm", kHead + "[text]\n\"{} Ω over\" = \"{0} dros\"\n",
       "words-cymraeg.toml:4:15 words-figure the numbers and signs of the translation are not"},
      {"an empty translation", kHead + "[text]\n\"over\" = \" \"\n",
       "words-cymraeg.toml:4:10 words-empty the translation is empty"},
      {"a number for a text", kHead + "[text]\n\"over\" = 4\n",
       "words-cymraeg.toml:4:10 words-type a translation is text"},
      {"a text for a table", kHead + "text = \"over\"\n",
       "words-cymraeg.toml:3:8 words-type \"text\" is a table of texts"},
      {"a line twice but for its capital",
       kHead + "[text]\n\"over\" = \"dros\"\n\"Over\" = \"Dros\"\n",
       "words-cymraeg.toml:5:1 words-twice \"Over\" stands here twice"},
      {"a line twice", kHead + "[text]\n\"over\" = \"dros\"\n\"over\" = \"dros\"\n",
       "words-cymraeg.toml:5:"},
      {"a character that turns the line", kHead + "[text]\n\"over\" = \"dr\\u202Eos\"\n",
       "words-cymraeg.toml:4:10 words-character a character that may not be printed (U+202E)"},
      {"not UTF-8", kHead + "[text]\n\"over\" = \"d\xE2r\"\n",
       "words-cymraeg.toml:4:12 not-utf8 the byte 0xE2 here is not valid UTF-8"},
      {"eleven months", kHead + "[words]\nmonths = \"a b c d e f g h i j k\"\n",
       "words-cymraeg.toml:4:10 words-months these are not twelve months"},
      {"an accent in the drawn word", kHead + "[words]\ndraft_mark = \"BRASLÛN\"\n",
       "words-cymraeg.toml:4:14 words-draft the word across a draft is drawn from the letters"},
      {"the share left out", kHead + "[words]\nused = \"o'r terfyn\"\n",
       "words-cymraeg.toml:4:8 words-hole \"o'r terfyn\" must hold {} as often as"},
  };
  for (const Wrong& w : all) {
    CAPTURE(w.slip);
    std::vector<std::string> said;
    CHECK(!load(w.text, said));
    REQUIRE(!said.empty());
    CHECK_MESSAGE(said.front().starts_with(w.says), said.front());
  }
}

TEST_CASE("everything that is wrong with a words file is said in one run") {
  std::vector<std::string> said;
  CHECK(
      !load(kHead + "[words]\npaeg = \"t\"\n[text]\n\"{} a\" = \"b\"\n\"1 c\" = \"2 c\"\n", said));
  CHECK(said.size() == 3);
}

TEST_CASE("a sentence finds the pattern with the most letters of its own") {
  const Translation t = sound(
      "[text]\n"
      "\"{} is over {}\" = \"{0} dros {1}\"\n"
      "\"{} is over {} by {#}\" = \"{0} {2} dros {1}\"\n"
      "\"box depth\" = \"dyfnder blwch\"\n"
      "\"Zs of {}\" = \"Zs {0}\"\n"
      "\"{} ({})\" = \"{0} ({1})\"\n"
      "\"Test again.\" = \"Profwch eto.\"\n"
      "\"{#} to {#}\" = \"{0} i {1}\"\n"
      "\"Leave it off\" = \"Gadewch ef\"\n"
      "\"Leave it off. Then {}\" = \"Gadewch ef. Yna {0}\"\n");
  CHECK(t.text("Box depth 47 mm is over 35 mm by 12 mm") == "Dyfnder blwch 47 mm 12 mm dros 35 mm");
  CHECK(t.text("Box depth is over 35 mm") == "Dyfnder blwch dros 35 mm");
  CHECK(t.text("box depth is over 35 mm") == "dyfnder blwch dros 35 mm");
  CHECK(t.text("Box depth is over 35 mm (Socket, by the door)") ==
        "Dyfnder blwch dros 35 mm (Socket, by the door)");
  CHECK(t.text("Test again. Test again.") == "Profwch eto. Profwch eto.");
  CHECK(t.text("≤ 1.37 Ω; test voltage; box depth") == "≤ 1.37 Ω; test voltage; dyfnder blwch");
  CHECK(t.text("Leave it off. Then box depth") == "Gadewch ef. Yna dyfnder blwch");
  CHECK(t.text("nothing knows this, 0.43 Ω") == "nothing knows this, 0.43 Ω");
  CHECK(t.text("5 to 50 W") == "5 i 50 W");
  CHECK(t.text("Door to 50 W") == "Door to 50 W");
  CHECK(t.text("").empty());
  CHECK(t.text("230 V × 0.95 ÷ (5 × 32 A) = 1.3656 Ω") == "230 V × 0.95 ÷ (5 × 32 A) = 1.3656 Ω");
}

TEST_CASE("no number is ever lost on the way, whatever the patterns") {
  const Translation t = sound(
      "[text]\n\"{} a {}\" = \"{1} â {0}\"\n\"{}: {}\" = \"{1}: {0}\"\n\"b {}\" = \"b {0}\"\n"
      "\"{} c\" = \"c {0}\"\n\"{}, {} d\" = \"d {1}, {0}\"\n");
  Dice dice(7);
  const std::vector<std::string> words{"a", "b", "c", "d", ":", ";", ",", ".", "(", ")", "x"};
  for (int i = 0; i < 2'000; ++i) {
    std::string text, digits;
    for (int n = dice.below(14); n > 0; --n) {
      if (dice.one_in(2)) text += words[static_cast<std::size_t>(dice.below(11))];
      if (dice.one_in(3)) text += std::to_string(dice.below(1000));
      if (!dice.one_in(4)) text += " ";
    }
    const auto counted = [](const std::string& s) {
      std::string out;
      for (const char c : s)
        if (c >= '0' && c <= '9') out += c;
      std::sort(out.begin(), out.end());
      return out;
    };
    CAPTURE(text);
    CHECK(counted(t.text(text)) == counted(text));
  }
}

TEST_CASE("a form in another language: sentences with their values, tones, words and title") {
  const Form form = form_from(
      "format = 1\ntitle = \"A page\"\n[[block]]\ntype = \"paragraph\"\ntext = [\"Tested on \", "
      "{ path = \"date\" }, \" by \", { path = \"person.name\", before = \" for \", empty = "
      "\"nobody\" }, { text = \"Loud: \", tone = \"strong\" }, { path = \"job.client\" }]\n");
  auto words = std::make_shared<Translation>(
      sound("[words]\nmonths = \"Ionawr Chwefror Mawrth Ebrill Mai Mehefin Gorffennaf Awst Medi "
            "Hydref Tachwedd Rhagfyr\"\n[form]\n\"A page\" = \"Tudalen\"\n\"Tested on {} by\" = "
            "\"Ar {0} profwyd gan\"\n\"for {}\" = \"i {0}\"\n\"nobody\" = \"neb\"\n"));
  std::vector<std::string> missing;
  const Form welsh = translated(form, words, &missing);
  CHECK(missing == std::vector<std::string>{"Loud: {}"});
  CHECK(welsh.title == "Tudalen");
  CHECK(welsh.language == "cy");
  const Document d = lay_out_or_fail(welsh, plain_case().view());
  CHECK(d.language == "cy");
  CHECK(page_says(d.pages.front(), "Ar 20 Tachwedd 2026 profwyd gan i Rosalind"));
  CHECK(page_says(d.pages.front(), "i Rosalind Hobday"));
}

TEST_CASE("a form that is in the language already keeps its own texts") {
  const Form form = form_from(
      "format = 1\ntitle = \"Over\"\nlanguage = \"cy\"\n[[block]]\ntype = \"heading\"\ntext = "
      "\"Over\"\n");
  auto words = std::make_shared<Translation>(
      sound("[words]\npage = \"tudalen\"\n[form]\n\"Over\" = \"Dros\"\n"));
  const Form welsh = translated(form, words);
  CHECK(welsh.title == "Over");
  CHECK(welsh.words.at("page") == "tudalen");
}
