#include "archive/hostile.h"

namespace hostile {
namespace {

using Names = std::vector<std::string>;

void add_paths(Names& out) {
  const Names wild{".",
                   "..",
                   "./a",
                   "../a",
                   "../canary/file",
                   "../../canary/file",
                   "../../../canary/folder/x",
                   "a/../../b",
                   "a/..",
                   "a/./b",
                   "/",
                   "//",
                   "/etc/ohmleaf",
                   "/../canary",
                   "a//b",
                   "a/",
                   "a/b/c",
                   "a/b",
                   "..\\a",
                   "..\\..\\a",
                   "\\a",
                   "\\\\host\\a",
                   "C:\\a",
                   "C:a",
                   "c:",
                   "a:b",
                   "a::$DATA",
                   "~",
                   "~/a",
                   "~root",
                   "$HOME",
                   "${HOME}",
                   "%2e%2e%2fa",
                   "..%2fa",
                   "%00",
                   "..;/a",
                   "....//a",
                   ".../a",
                   "...",
                   "....",
                   "-rf",
                   "--help",
                   "-",
                   "--",
                   "-o/a",
                   "a -o b",
                   "*",
                   "?",
                   "a*",
                   "[a]",
                   "{a,b}",
                   "a|b",
                   "a>b",
                   "a<b",
                   "a&b",
                   "a;b",
                   "`a`",
                   "$(a)",
                   "a'b",
                   "a\"b",
                   "'",
                   "\"",
                   "!",
                   "a!b",
                   "#a",
                   "a#b",
                   "@a",
                   "=a",
                   "+a",
                   "^",
                   "a,b",
                   "file:///a",
                   "http://a",
                   "//host/a",
                   "\\\\?\\C:\\a",
                   "\\\\.\\a",
                   "..%c0%afa"};
  out.insert(out.end(), wild.begin(), wild.end());
}

void add_reserved(Names& out) {
  const Names words{"con",       "prn",    "aux",       "nul",       "com0",        "com1",
                    "com2",      "com3",   "com9",      "lpt0",      "lpt1",        "lpt2",
                    "lpt9",      "conin$", "conout$",   "clock$",    "desktop.ini", "thumbs.db",
                    ".ds_store", ".git",   ".htaccess", "lost+found"};
  for (const std::string& w : words) {
    out.push_back(w);
    std::string upper = w;
    for (char& c : upper) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    out.push_back(upper);
  }
  for (const char* w : {"con.txt", "NUL.pdf", "aux.a.b", "com1.toml", "LPT1.", "nul ", "con:"}) {
    out.push_back(w);
  }
  // Names that the archive itself uses.
  for (const char* w : {"inventory.json",
                        "inventory.json.sha512",
                        "issue.json",
                        "ISSUE.JSON",
                        "job.toml",
                        "JOB.TOML",
                        "0=ocfl_object_1.1",
                        "0=ocfl_1.1",
                        "v1",
                        "v2",
                        "content",
                        "extensions",
                        "logs",
                        "README.txt",
                        "ocfl_layout.json",
                        "sp-0001",
                        "SP-0001",
                        "archive.work",
                        "staging",
                        "lock",
                        "latest.json"}) {
    out.push_back(w);
  }
}

void add_controls(Names& out) {
  for (char c = 1; c < 32; ++c) out.push_back(std::string("a") + c + "b");
  for (const char* s : {"\x7f", "a\x7f"}) out.push_back(s);
  out.push_back(std::string("a\0b", 3));
  out.push_back(std::string("\0", 1));
  out.push_back(std::string("job\0.toml", 9));
  // U+0085, U+00A0, U+00AD, U+034F, U+115F, U+180E, U+2000 … spaces, U+FEFF
  for (const char* s :
       {"\u0080",   "a\u0085b",     "a\u00a0b",   "a\u00adb", "a\u034fb", "a\u115fb",
        "a\u180eb", "a\u2003b",     "a\u200bb",   "a\u2028b", "a\u2029b", "a\u202fb",
        "a\u2060b", "a\u3000b",     "\ufeffa",    "a\ufff9b", "a\ufffcb", "a\ufffdb",
        "a\ufe0fb", "a\U000e0001b", "a\U000e0061"}) {
    out.push_back(s);
  }
  // Characters that turn the direction of writing.
  for (const char* s : {"a\u202efdp.b", "a\u202ab", "a\u202bb", "a\u202cb", "a\u202db", "a\u2066b",
                        "a\u2067b", "a\u2068b", "a\u2069b", "a\u200eb", "a\u200fb", "a\u061cb"}) {
    out.push_back(s);
  }
  for (const char* s : {"\x1b[31m",
                        "\x1b]0;a\x07",
                        "a\r\nb",
                        " a",
                        "a ",
                        " ",
                        "  ",
                        "\t",
                        "a.",
                        "a..",
                        ".a",
                        "",
                        "_",
                        "a b",
                        "a\u2215b",
                        "a\uff0fb",
                        "\uff0e\uff0e",
                        "a\u29f8b",
                        "\u2024\u2024/a",
                        "\u2025"}) {
    out.push_back(s);
  }
}

void add_lengths_and_bytes(Names& out) {
  for (const std::size_t n : {16u, 17u, 64u, 65u, 100u, 101u, 255u, 256u, 1024u, 4096u}) {
    out.push_back(std::string(n, 'a'));
  }
  std::string deep;
  for (int i = 0; i < 500; ++i) deep += "a/";
  out.push_back(deep + "a");
  std::string up;
  for (int i = 0; i < 100; ++i) up += "../";
  out.push_back(up + "canary");
  for (const char* s : {"\x80", "\xff", "\xfe\xff", "a\xc0\xaf", "\xc0\xae\xc0\xae/a",
                        "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xc3", "a\xe2\x82",
                        "\xf0\x9f\x92", "caf\xe9", "\xa0", "\xf8\x88\x80\x80\x80"}) {
    out.push_back(s);
  }
  for (const char* s :
       {"\u00e9",  "e\u0301",      "\u00c5", "\u212b",       "\u2126",     "\u03a9",
        "\u0131",  "\u0130",       "\u00df", "\u1e9e",       "\u017f",     "\ufb01",
        "\u2460",  "\uff21",       "\u03c2", "\u0441\u0440", "\U0001f4a9", "\U0001d41a",
        "a\u0338", "\u0660\u0661", "\u16a0"}) {
    out.push_back(s);
  }
}

}  // namespace

std::vector<std::string> names() {
  Names out;
  add_paths(out);
  add_reserved(out);
  add_controls(out);
  add_lengths_and_bytes(out);
  return out;
}

std::vector<std::pair<std::string, std::string>> twins() {
  return {{"plan.png", "PLAN.PNG"},
          {"plan.png", "Plan.png"},
          {"caf\u00e9", "cafe\u0301"},
          {"\u00c5", "\u212b"},
          {"\u00c5", "A\u030a"},
          {"\u2126", "\u03a9"},
          {"stra\u00dfe", "strasse"},
          {"\ufb01le", "file"},
          {"\u0131ob", "iob"},
          {"\u212aey", "key"},
          {"\uff41", "a"},
          {"a", "a."},
          {"a", "a "},
          {"a", "A"},
          {"images/a.png", "IMAGES/a.png"},
          {"images/a.png", "images/A.png"},
          {"images", "IMAGES/a.png"},
          {"\u00f1", "n\u0303"},
          {"\uac00", "\u1100\u1161"},
          {"\u1e9b\u0323", "\u1e69"}};
}

}  // namespace hostile
