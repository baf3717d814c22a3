#include "base/support.h"
#include "base/text.h"
#include "base/toml_edit.h"

namespace ohmleaf {
namespace {

const std::string kJob =
    "# A job.\n"
    "format = 1\n"
    "work   = \"\"\"\n[circuit] = # no header\n\"\"\"\n"
    "\n"
    "[supply]   # seen at the intake\n"
    "earthing = \"TN-S\"  # lead sheath\n"
    "\n"
    "# the ring\n"
    "[[circuit]]\n"
    "ref  = \"3\"\n"
    "# name comes later\n"
    "\n"
    "  [circuit.dead]\n"
    "  # r1 =            # Ω, end to end\n"
    "  # rn=\n"
    "  polarity = true   # at each point\n"
    "  # the rest later\n"
    "\n"
    "  [[circuit.accessory]]\n"
    "  item = \"a\"\n"
    "  rcd = { trip_ms = 20 }\n"
    "\n"
    "# lights\n"
    "[[circuit]]\n"
    "ref = \"6\"\n"
    "  [circuit.dead]\n"
    "  insulation.volts = 500\n"
    "  [circuit.live]\n"
    "[network]\n"
    "hub = \"hall\"";

std::vector<std::string> order(const TomlPath& table) {
  if (table.empty()) return {"supply", "bonding", "isolation", "circuit", "network", "inspection"};
  return {"cable", "dead", "live", "accessory"};
}

/// What is new, each line with "+", what is gone with "-".
std::string change(const std::string& before, const std::string& path, const std::string& value) {
  const auto after = edit_toml(before, toml_path(path), value, order);
  if (!after) return "refused";
  const auto a = split(before, '\n'), b = split(*after, '\n');
  std::size_t head = 0, tail = 0;
  while (head < std::min(a.size(), b.size()) && a[head] == b[head]) ++head;
  while (tail < std::min(a.size(), b.size()) - head && a[a.size() - 1 - tail] == b[b.size() - 1 - tail])
    ++tail;
  std::string out = std::to_string(head + 1);
  for (std::size_t i = head; i < a.size() - tail; ++i) out += "\n-" + std::string(a[i]);
  for (std::size_t i = head; i < b.size() - tail; ++i) out += "\n+" + std::string(b[i]);
  return out;
}

}  // namespace

TEST_CASE("one value is changed or added where its writer would have put it") {
  struct Row {
    std::string path, value, change;
  };
  const Row rows[] = {
      // There already: the value alone changes.
      {"supply.earthing", "\"TT\"",
       "8\n-earthing = \"TN-S\"  # lead sheath\n+earthing = \"TT\"  # lead sheath"},
      {"circuit[0].dead.polarity", "false",
       "18\n-  polarity = true   # at each point\n+  polarity = false   # at each point"},
      {"circuit[0].accessory[0].rcd.trip_ms", "18",
       "23\n-  rcd = { trip_ms = 20 }\n+  rcd = { trip_ms = 18 }"},
      {"work", "\"short\"", "3\n-work   = \"\"\"\n-[circuit] = # no header\n-\"\"\"\n+work   = \"short\""},
      // A blank that waits: what is said behind it keeps its column.
      {"circuit[0].dead.r1", "0.32",
       "16\n-  # r1 =            # Ω, end to end\n+  r1 = 0.32         # Ω, end to end"},
      {"circuit[0].dead.rn", "0.33", "17\n-  # rn=\n+  rn= 0.33"},
      // A line more, behind the last of its table.
      {"circuit[0].dead.r2", "0.5", "19\n+  r2 = 0.5"},
      {"supply.ze", "0.21", "9\n+ze = 0.21"},
      {"circuit[0].name", "\"Ring\"", "13\n+name = \"Ring\""},
      {"circuit[0].accessory[0].where", "\"hall\"", "24\n+  where = \"hall\""},
      {"circuit[1].live.zs", "0.9", "31\n+  zs = 0.9"},
      // In braces, with dots, as the table was begun.
      {"circuit[0].accessory[0].rcd.test_button", "true",
       "23\n-  rcd = { trip_ms = 20 }\n+  rcd = { trip_ms = 20, test_button = true }"},
      {"circuit[1].dead.insulation.live_live", "\">999\"",
       "30\n+  insulation.live_live = \">999\""},
      {"circuit[0].dead.insulation.live_live", "\">999\"",
       "19\n+  insulation = { live_live = \">999\" }"},
      // A table that is not there yet gets its header in its place.
      {"circuit[0].live.zs", "0.4", "21\n+  [circuit.live]\n+  zs = 0.4\n+"},
      {"circuit[0].live.rcd.trip_ms", "20",
       "21\n+  [circuit.live]\n+  rcd = { trip_ms = 20 }\n+"},
      {"bonding.water", "10", "10\n+[bonding]\n+water = 10\n+"},
      {"inspection.labels", "true", "33\n+\n+[inspection]\n+labels = true\n+"},
      {"client", "\"M\"", "6\n+client = \"M\""},
  };
  for (const Row& row : rows) {
    CAPTURE(row.path);
    CHECK(change(kJob, row.path, row.value) == row.change);
  }
}

TEST_CASE("an edit that could not be read back as that one change is refused") {
  for (const auto& [path, value] : std::vector<std::pair<std::string, std::string>>{
           {"circuit[2].ref", "\"9\""},            // no such circuit
           {"absent[0]", "1"},                     // an element of nothing (fuzz/found/edit)
           {"circuit.ref", "\"9\""},               // which of the two
           {"supply.earthing.kind", "1"},          // leads through a text
           {"circuit[0].dead.r1", "0.3\nr2 = 1"},  // a second line
           {"circuit[0].dead.r1", "0.3 # a"},      // would eat the closing mark in braces
           {"circuit[0].accessory[0].rcd.x", "1 }\n"},
           {"circuit[0].dead.r1", ""},
           {"circuit[0].dead.r1", "0,3"},
           {"", "1"}}) {
    CAPTURE(path);
    CAPTURE(value);
    const auto after = edit_toml(kJob, toml_path(path), value, order);
    if (value == "0.3 # a")  // a comment of one's own is no harm in a line of its own
      CHECK(after);
    else
      CHECK_FALSE(after);
  }
  CHECK_FALSE(edit_toml(kJob, toml_path("circuit[0].accessory[0].rcd.x"), "1 # a", order));
  CHECK_FALSE(edit_toml("a = = 1\n", toml_path("b"), "1"));
}

TEST_CASE("line endings, a byte order mark and an open last line are kept") {
  CHECK(edit_toml("a = 1\r\n\r\n[t]\r\nb = 2\r\n", toml_path("t.c"), "3") ==
        "a = 1\r\n\r\n[t]\r\nb = 2\r\nc = 3\r\n");
  CHECK(edit_toml("\xEF\xBB\xBF" "a = 1", toml_path("b"), "2") == "\xEF\xBB\xBF" "a = 1\nb = 2\n");
  CHECK(edit_toml("", toml_path("b"), "2") == "b = 2\n");
  CHECK(edit_toml("# only this\n", toml_path("t.b"), "2", order) == "# only this\n\n[t]\nb = 2\n");
  CHECK(edit_toml("", toml_path("t.b"), "2", order) == "[t]\nb = 2\n");
}

TEST_CASE("every value of a job set again leaves every byte where it was") {
  Parsed p = parse(kJob);
  REQUIRE(p.root);
  int seen = 0;
  const auto each = [&](const auto& self, const TomlNode& node, const TomlPath& path) -> void {
    for (std::size_t i = 0; i < node.children.size(); ++i) {
      const TomlNode& child = node.children[i];
      TomlPath at = path;
      if (node.is_array())
        at.back().index = static_cast<int>(i);
      else
        at.push_back({child.key, -1});
      if (child.is_table() || child.is_array()) {
        self(self, child, at);
        continue;
      }
      const std::string value = p.slice(&child);
      if (value.find('\n') != std::string::npos) continue;
      CAPTURE(toml_path_text(at));
      CHECK(edit_toml(kJob, at, value, order) == kJob);
      ++seen;
    }
  };
  each(each, *p.root, {});
  CHECK(seen == 9);
}

}  // namespace ohmleaf
