#include "app/new_installer.h"

#include <algorithm>
#include <utility>

#include "app/blanks.h"
#include "app/toml_write.h"
#include "base/date.h"
#include "base/text.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

constexpr std::size_t kCommentColumn = 34;
constexpr std::size_t kMostInitials = 4;

using Values = std::vector<std::pair<std::string, std::string>>;

/// A table with what is known as values, and every other key of it as a blank with its meaning.
class Writer {
 public:
  void say(const std::string& line) { out_.line(line); }
  const std::string& text() const { return out_.text(); }

  void table(const std::string& name, const char* shape_name, const Values& known,
             const std::vector<std::string>& left_out = {}) {
    say("\n[" + name + "]");
    const record::Shape* shape = record::installer_shape().find(shape_name);
    for (const auto& [key, value] : known)
      if (!value.empty()) out_.value("", key, value, "");
    for (const record::Shape& key : shape->members) {
      const bool given = std::any_of(known.begin(), known.end(), [&](const auto& k) {
        return k.first == key.name && !k.second.empty();
      });
      const bool skip = std::find(left_out.begin(), left_out.end(), key.name) != left_out.end();
      if (given || skip || key.name == "id" || key.kind == record::View::Kind::list) continue;
      blank(key);
    }
  }

 private:
  void blank(const record::Shape& key) {
    std::string what = key.kind == record::View::Kind::flag ? "true or false; " : "";
    if (key.kind == record::View::Kind::date) what = "as 2026-03-16; ";
    if (!key.unit.empty()) what = key.unit + "; ";
    out_.blank("", key.name, "", what + key.help);
  }
  Blanks out_{kCommentColumn};
};

/// A text in quotation marks; nothing stays nothing.
std::string quoted(const std::string& text) {
  return text.empty() ? text : toml_text(text);
}

/// A date as such, anything else as a text, so that the reader says what is wrong with it.
std::string dated(const std::string& text) {
  return Date::parse(text) ? text : quoted(text);
}

std::string sentence_case(std::string word) {
  if (!word.empty() && word.front() >= 'a' && word.front() <= 'z')
    word.front() = static_cast<char>(word.front() - 'a' + 'A');
  return word;
}

std::string key_of(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '-');
  return name;
}

std::string written(const NewInstaller& p) {
  Writer w;
  w.say("# The firm, its people, its instruments and the accessories it fits: begun with");
  w.say("# ohmleaf start installer. Every job below this folder finds this file by itself.");
  w.say(
      "# A line that begins with # and a key waits for its answer: fill it in and take the # "
      "away.");
  w.say("format = 1");
  w.table("firm", "firm",
          {{"name", quoted(p.firm)},
           {"address", quoted(p.address)},
           {"phone", quoted(p.phone)},
           {"email", quoted(p.email)},
           {"registration", quoted(p.registration)}});
  w.table("numbering", "numbering", {{"prefix", quoted(p.prefix)}});
  w.say("\n# ---- people: the key is what a job names");
  w.table("person." + toml_key(p.person_key), "person",
          {{"name", quoted(p.person)}, {"role", quoted(p.role)}});
  w.say(
      "\n# ---- instruments: dates from the calibration certificate; uncertainty from the manual");
  for (const NewInstrument& i : p.instruments) {
    const bool measures = i.kind.find("tester") != std::string::npos;
    std::vector<std::string> left_out;
    if (!measures)
      left_out = {"continuity_percent", "loop_percent",    "insulation_percent",
                  "rcd_percent",        "continuity_ohms", "loop_ohms"};
    if (i.kind == "proving unit")
      left_out.insert(left_out.end(), {"calibrated", "calibration_due"});
    w.table("instrument." + toml_key(i.key), "instrument",
            {{"kind", quoted(i.kind)},
             {"make", quoted(i.make)},
             {"model", quoted(i.model)},
             {"serial", quoted(i.serial)},
             {"calibrated", dated(i.calibrated)},
             {"calibration_due", dated(i.calibration_due)}},
            left_out);
  }
  w.say("\n# ---- accessories: the maker's figures, entered once; copy a table for each model");
  for (const std::string& c : p.classes)
    w.table("accessory." + toml_key(key_of(c)), "accessory",
            {{"class", quoted(c)}, {"name", quoted(sentence_case(c))}});
  return w.text();
}

}  // namespace

std::optional<std::string> new_installer_text(const NewInstaller& profile, Diagnostics& out) {
  const std::string text = written(profile);
  Sources sources;
  Diagnostics found;
  if (record::read_installer(sources, sources.add("installer.toml", text), found)) return text;
  for (Diagnostic d : found.all()) {
    d.span = {};
    d.labels.clear();
    out.add(std::move(d));
  }
  return std::nullopt;
}

std::string initials(const std::string& words) {
  std::string out;
  for (const std::string_view word : split(words, ' '))
    if (!word.empty() && ((word.front() >= 'a' && word.front() <= 'z') ||
                          (word.front() >= 'A' && word.front() <= 'Z')))
      out += word.front();
  for (char& c : out)
    if (c >= 'a') c = static_cast<char>(c - 'a' + 'A');
  return out.empty() ? "C" : out.substr(0, kMostInitials);
}

}  // namespace ohmleaf::app
