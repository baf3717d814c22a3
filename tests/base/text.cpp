#include "base/text.h"

#include <doctest/doctest.h>

namespace ohmleaf {

TEST_CASE("the first byte that is not valid UTF-8") {
  CHECK(!first_invalid_utf8(""));
  CHECK(!first_invalid_utf8("aΩ€𝄞"));
  CHECK(!first_invalid_utf8("\xF4\x8F\xBF\xBF"));  // U+10FFFF
  CHECK(first_invalid_utf8("a\xff") == 1);
  CHECK(first_invalid_utf8("Ω\xC3") == 2);             // cut short
  CHECK(first_invalid_utf8("\xC0\xAF") == 0);          // overlong
  CHECK(first_invalid_utf8("\xE0\x80\xAF") == 0);      // overlong
  CHECK(first_invalid_utf8("\xED\xA0\x80") == 0);      // surrogate
  CHECK(first_invalid_utf8("\xF4\x90\x80\x80") == 0);  // beyond U+10FFFF
  CHECK(first_invalid_utf8("\x80") == 0);
}

TEST_CASE("there and back") {
  const std::string text = "aΩ€𝄞";
  std::string back;
  for (const char32_t c : decode_utf8(text)) append_utf8(back, c);
  CHECK(back == text);
  CHECK(code_point_count(text) == 4);
  CHECK(decode_utf8("a\xffz") == U"a\uFFFDz");
}

TEST_CASE("canonical composition") {
  CHECK(to_nfc("e\u0301") == "\u00e9");
  CHECK(to_nfc("\u2126") == "\u03a9");  // OHM SIGN becomes the Greek letter
  CHECK(to_nfc("ohm") == "ohm");
  CHECK(to_nfc("a\xff") == "a\xff");
}

TEST_CASE("folded for searching") {
  // As a reader looks for them: letters with a stroke have no decomposition in Unicode.
  CHECK(fold_for_search("Mørk, Włodek, ĐORĐE, Æbeltoft, Þór") == "mork, wlodek, dorde, aebeltoft, thor");
  CHECK(fold_for_search("  Été\t\nSTRASSE ") == "ete strasse");
  CHECK(fold_for_search("Straße") == "strasse");
  CHECK(fold_for_search("") == "");
}

TEST_CASE("what a terminal is shown is harmless") {
  CHECK(visible("a\x1b[31mb") == "a\\u{1b}[31mb");
  CHECK(visible("a\u202eb") == "a\\u{202e}b");
  CHECK(visible("a\nb") == "a\\u{a}b");
  CHECK(visible("a\nb\tc", true) == "a\nb\tc");
  CHECK(visible("a\u009bb") == "a\\u{9b}b");
  CHECK(visible("Ω µ £") == "Ω µ £");
  CHECK(visible("\xff") == "\\u{fffd}");
}

TEST_CASE("characters that may not be printed") {
  for (const char32_t c : {U'\0', U'\t', U'\n', U'\x7f', U'\u0085', U'\u200b', U'\u202e', U'\u2066',
                           U'\ufeff', U'\ufffe', U'\U0001FFFF', U'\ue000', U'\u061c'})
    CHECK(is_forbidden_in_text(c));
  for (const char32_t c : {U' ', U'Ω', U'é', U'\u00a0', U'–', U'𝄞'})
    CHECK(!is_forbidden_in_text(c));
  // The controls of ASCII and Latin-1, to the last (Unicode, category Cc).
  for (char32_t c = 0; c < 0x300; ++c)
    CHECK(is_forbidden_in_text(c) == (c < 0x20 || (c >= 0x7F && c < 0xA0)));
}

TEST_CASE("splitting, joining, trimming") {
  CHECK(split("a,b,,c", ',').size() == 4);
  CHECK(split("", ',').size() == 1);
  CHECK(join({"a", "b"}, ", ") == "a, b");
  CHECK(join({}, ", ") == "");
  CHECK(trim(" \t a b\r\n") == "a b");
  CHECK(ascii_lower("AΩé-Z") == "aΩé-z");
}

TEST_CASE("the nearest word, if it is near enough to help") {
  const std::vector<std::string_view> words{"client", "premises", "person", "ze", "zs"};
  CHECK(nearest("clint", words) == "client");
  CHECK(nearest("clinet", words) == "client");  // a transposition counts one
  CHECK(nearest("CLIENT", words) == "client");
  CHECK(nearest("zz", words) == "ze");
  CHECK(!nearest("wobbliness", words));
  CHECK(!nearest("", words));
  CHECK(!nearest(std::string(1000, 'x'), words));
}

// XML 1.0 (fifth edition), 2.4 and 4.6: these five are the predefined entities; the apostrophe needs
// none where attributes stand in double quotes.
TEST_CASE("text in XML keeps its meaning") {
  CHECK(xml_text("R1 & R2 < \"1.2\" > 0 'Ω'") == "R1 &amp; R2 &lt; &quot;1.2&quot; &gt; 0 'Ω'");
  CHECK(xml_text("&amp;") == "&amp;amp;");
  CHECK(xml_text("") == "");
}

}  // namespace ohmleaf
