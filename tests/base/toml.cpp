#include "base/toml.h"

#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/support.h"
#include "places.h"

namespace ohmleaf {

TEST_CASE("values keep their text, their kind and their place") {
  const Parsed p = parse(
      "a = 1.10\n"
      "\"b c\" = \"x\\ty\"\n"
      "d = 2026-11-20\n"
      "e = 2026-11-20T09:12:00  # when\n"
      "f = true\n"
      "g = [1, 2.50]\n"
      "h = { i = 09:12:00 }\n");
  REQUIRE(p.root);
  const TomlNode& r = *p.root;
  REQUIRE(r.children.size() == 7);
  CHECK(r.find("a")->kind == TomlKind::floating);
  CHECK(r.find("a")->text == "1.10");
  CHECK(p.slice(r.find("a")) == "1.10");
  CHECK(r.find("b c")->text == "x\ty");
  CHECK(p.slice(r.find("b c")) == "\"x\\ty\"");
  CHECK(p.sources.slice(r.find("b c")->key_span) == "\"b c\"");
  CHECK(r.find("d")->kind == TomlKind::date);
  CHECK(p.slice(r.find("e")) == "2026-11-20T09:12:00");
  CHECK(r.find("e")->kind == TomlKind::date_time);
  CHECK(r.find("f")->text == "true");
  REQUIRE(r.find("g")->children.size() == 2);
  CHECK(r.find("g")->children[1].text == "2.50");
  CHECK(r.find("h")->find("i")->kind == TomlKind::time);
  CHECK(r.find("z") == nullptr);
}

TEST_CASE("children come in the order of the file, and headers have a place") {
  const Parsed p =
      parse("z = 1\na = 2\n[[circuit]]\nref = \"1\"\n  [circuit.dead]\n  r1 = 3\n[[circuit]]\n");
  REQUIRE(p.root);
  CHECK(p.root->children[0].key == "z");
  CHECK(p.root->children[1].key == "a");
  const TomlNode* circuits = p.root->find("circuit");
  REQUIRE(circuits);
  REQUIRE(circuits->children.size() == 2);
  CHECK(p.sources.slice(circuits->children[1].span) == "[[circuit]]");
  CHECK(p.sources.get(1).line_column(circuits->children[1].span.begin).line == 7);
  const TomlNode* dead = circuits->children[0].find("dead");
  REQUIRE(dead);
  CHECK(p.sources.slice(dead->key_span) == "dead");
}

TEST_CASE("places are right behind characters of two, three and four bytes, tabs and a BOM") {
  const Parsed p =
      parse("l = { \"é𝄞Ω\" = \"½\", m = 2.50 }\t# £\n\tn = [\"µ\", 7]\r\no = \"°\" # Ŵ\n");
  REQUIRE(p.root);
  CHECK(p.slice(p.root->find("l")->find("m")) == "2.50");
  CHECK(p.slice(p.root->find("l")->find("é𝄞Ω")) == "\"½\"");
  CHECK(p.slice(&p.root->find("n")->children[1]) == "7");
  CHECK(p.slice(p.root->find("o")) == "\"°\"");
  const Parsed bom = parse(
      "\xEF\xBB\xBF"
      "a = 1.10\nb = 2.50\n");
  REQUIRE(bom.root);
  CHECK(bom.slice(bom.root->find("a")) == "1.10");
  CHECK(bom.root->find("b")->text == "2.50");
}

TEST_CASE("our characters survive in every form of text") {
  // The library alone reaches undefined behaviour after a line-ending backslash (see toml.cpp).
  for (const std::string c : {"Ω", "°", "²", "µ", "£", "Ŵ", "ҙ", "é", "–"}) {
    CAPTURE(c);
    const std::string forms[] = {"\"" + c + "\"",
                                 "'" + c + "'",
                                 "\"\"\"" + c + "\"\"\"",
                                 "'''" + c + "'''",
                                 "\"\"\"\\\n" + c + "\"\"\"",
                                 "\"\"\"\n" + c + "\"\"\"",
                                 "\"\"\"\\\n   " + c + "\"\"\"",
                                 "'''\n" + c + "'''"};
    for (const std::string& form : forms) {
      const Parsed p = parse("k = " + form + "\n");
      REQUIRE(p.root);
      CHECK(p.root->find("k")->text == c);
    }
  }
  std::ifstream in(std::filesystem::path(test_data()) / "toml" /
                   "toml_ubsan_unreachable.toml");
  REQUIRE(in.good());
  const Parsed p = parse(std::string(std::istreambuf_iterator<char>(in), {}));
  REQUIRE(p.root);
  CHECK(p.root->children.size() > 6);
  for (const TomlNode& n : p.root->children) CHECK(n.text == "§");
}

TEST_CASE("five files that make the library abort without its fence are plain errors") {
  for (const std::string text :
       {"[\n", "[.]\n", "[..]\n", "[!]\n", "[,]\n", "[", "[[", "[[.]]", "[=]"}) {
    CAPTURE(text);
    const Parsed p = parse(text);
    CHECK(!p.root);
    REQUIRE(p.out.all().size() == 1);
    CHECK(p.out.all()[0].span.valid());
    CHECK(!p.out.ok());
  }
}

TEST_CASE("the fence refuses what the parser must not be shown") {
  struct Row {
    std::string text, told;
  };
  std::string many = "a = [";
  for (int i = 0; i <= kTomlMaxValues; ++i) many += "1,\n";
  std::string keys = "[a]\n", apart;
  for (int i = 0; i <= kTomlMaxKeys; ++i) keys += "k" + std::to_string(i) + " = [{ a = 1 }]\n";
  for (int i = 0; i <= kTomlMaxKeys; ++i) apart += "[k" + std::to_string(i) + "]\na = 1\nb = [\n2]\n";
  const Row rows[] = {
      {std::string(17 << 20, '#'), "1:1 file-too-large: the file is larger than 16 MiB"},
      {"\xFF\xFE"
       "a\0",
       "1:1 not-utf8: the file is saved as UTF-16"},
      {"a = 1\nb = \"\xC3\x28\"", "2:6 not-utf8: the byte 0xC3 here is not valid UTF-8"},
      {"a = \"\xED\xA0\x80\"", "1:6 not-utf8: the byte 0xED here is not valid UTF-8"},
      {"a = \"\xC0\xAF\"", "1:6 not-utf8: the byte 0xC0 here is not valid UTF-8"},
      {"a = 1\n\x01", "2:1 control-character: a control character (0x01) stands here"},
      {"a = 1 # \x7F", "1:9 control-character: a control character (0x7F) stands here"},
      {"a = 1\rb = 2\n",
       "1:6 control-character: a carriage return stands here without a line feed"},
      {"a = \"" + std::string(70000, 'x') + "\"",
       "1:1 line-too-long: this line is longer than 64 KiB"},
      {"a" + std::string(17, '.') + " = 1",
       "1:18 too-many-dots: this line has more than 16 dots outside of text"},
      {"a = " + std::string(33, '['), "1:37 too-deep: brackets are nested more than 32 deep here"},
      {"a = " + std::string(400000, '.'),
       "1:21 too-many-dots: this line has more than 16 dots outside of text"},
      {many, "599999:2 too-many-values: the file holds more than 600000 values"},
      {keys, "1002:7 too-many-keys: there are more than 1000 keys under one heading"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.told);
    const Parsed p = parse(row.text);
    CHECK(!p.root);
    CHECK(p.all() == row.told);
  }
  CHECK(parse("a = \"" + std::string(300, '.') + "\" # " + std::string(300, '.')).root);
  CHECK(parse(apart).root);
  CHECK(parse("a = '''\n" + std::string(300, '[') + "\n'''\n").root);
  CHECK(parse("a = \"\"\"x\\\"\"\"\" # [[[\n" + std::string(40, ' ') + "b = 1").root);
  CHECK(parse("a = " + std::string(30, '[') + std::string(30, ']')).root);
}

TEST_CASE("what is no number is refused") {
  for (const std::string n : {"nan", "+nan", "-nan", "inf", "+inf", "-inf"}) {
    CAPTURE(n);
    const Parsed p = parse("a = " + n);
    CHECK(!p.root);
    CHECK(p.all() == "1:5 not-a-number: \"" + n + "\" is no reading");
  }
}

TEST_CASE("an empty file is an empty table") {
  for (const std::string text : {"", "\n", "# nothing\n", "\xEF\xBB\xBF"}) {
    const Parsed p = parse(text);
    REQUIRE(p.root);
    CHECK(p.root->children.empty());
  }
}

}  // namespace ohmleaf
