#include <array>

#include "base/text.h"
#include "checks/check.h"
#include "cli/manual_parts.h"
#include "layout/form_keys.h"
#include "record/read.h"
#include "record/schema.h"

// The pages of the files, from the tables of keys that read them.

namespace ohmleaf::cli {
namespace {

using record::Shape;
using record::Written;

constexpr std::string_view kTomlWords =
    "The file is TOML: one key a line, texts in quotation marks, dates as year-month-day, and "
    "whatever stands behind a # is for people. A key that is not known, a word that is none of "
    "those allowed or a figure that cannot be is an error with its place, and nothing is written.";

constexpr std::string_view kReadingWords =
    "A reading is written as the instrument shows it, without its unit, which the key has: 0.42, "
    "\">999\" where it is more than the instrument shows, \"<0.01\" where it is less. What cannot "
    "be had needs its reason: \"N/A: no neutral here\" where it does not apply, \"LIM: why\" where "
    "it was not tested by an agreed limitation. A figure is compared as it stands, never rounded.";

bool is_table(const Shape& s) {
  return s.written == Written::table || s.written == Written::tables ||
         s.written == Written::keyed || s.written == Written::own ||
         s.written == Written::any_table;
}

std::string range_of(const Shape& s) {
  const bool number = s.written == Written::number || s.written == Written::whole ||
                      s.written == Written::reading || s.written == Written::size;
  if (!number || s.allowed.most <= 0 || !s.allowed.numbers.empty()) return {};
  return " From " + std::to_string(s.allowed.least) + " to " + std::to_string(s.allowed.most) + ".";
}

void key_item(Roff& out, const Shape& s) {
  std::string text = record::sentences_of(s) + range_of(s);
  if (!s.words.empty()) text += " One of: " + join(s.words, ", ") + ".";
  if (s.written == Written::flag) text += " true or false.";
  if (s.written == Written::texts) text += " A list of texts.";
  if (s.required) text += " Needed.";
  std::string parts;
  if (s.written == Written::reading || s.written == Written::fault_current)
    for (const Shape& m : s.members) parts += (parts.empty() ? "" : ", ") + m.name;
  if (!parts.empty()) text += " May be given one by one: " + parts + ".";
  out.item(s.name, text);
}

std::string heading_of(const Shape& s, const std::string& path) {
  switch (s.written) {
    case Written::tables:
      return "[[" + path + "]]";
    case Written::keyed:
      return "[" + path + ".KEY]";
    default:
      return "[" + path + "]";
  }
}

/// The keys of a table, then each table below it under its own heading.
void table_of(Roff& out, const Shape& table, const std::string& path) {
  for (const Shape& m : table.members) {
    if (is_table(m) || (table.written == Written::keyed && m.name == "id")) continue;
    key_item(out, m);
    if (m.written != Written::device || m.members.empty() || path.empty()) continue;
  }
  for (const Shape& m : table.members) {
    if (!is_table(m)) continue;
    const std::string below = path.empty() ? m.name : path + "." + m.name;
    out.subheading(heading_of(m, below));
    out.paragraph(record::sentences_of(m));
    table_of(out, m, below);
  }
}

/// The facts of a device as a table: alike wherever a device may stand.
const Shape* a_device(const Shape& s) {
  if (s.written == Written::device) return &s;
  for (const Shape& m : s.members)
    if (const Shape* found = a_device(m)) return found;
  return nullptr;
}

void start_page(Roff& out, const std::string& name, const std::string& about) {
  out.heading("NAME");
  out.raw(roff_plain(name) + " \\- " + roff_plain(about));
  out.heading("DESCRIPTION");
}

ManualPage job_page() {
  ManualPage page{"ohmleaf-job", 5, "one job: what was done, and its readings", {}};
  Roff out = new_page(page.name, 5);
  start_page(out, page.name, page.about);
  out.paragraph(
      "A job is one folder with a job.toml in it. It is short: what can be derived is not asked "
      "for, and what is left out has a default that the report states.");
  out.paragraph(kTomlWords);
  out.paragraph(kReadingWords);
  out.heading("KEYS");
  table_of(out, record::job_shape(), "");
  if (const Shape* device = a_device(record::job_shape())) {
    out.heading("A DEVICE AS A TABLE");
    out.paragraph(
        "In place of the words of its label: device = { standard = \"RCBO\", curve = \"B\", "
        "rating = 32, idn = 30, type = \"A\", breaking = 6 }.");
    for (const Shape& m : device->members) key_item(out, m);
  }
  out.heading("EXAMPLES");
  out.example(
      "format   = 1\nkind     = \"minor works\"\ndate     = 2026-11-20\nperson   = \"rh\"\n"
      "premises = \"Flat 2, 9 Tallow Yard, Brindle Cross BX4 7QN\"\n"
      "client   = \"M. Okonjo-Pryce\"\nwork     = \"A socket-outlet added to the ring.\"\n\n"
      "[supply]\nearthing = \"TN-C-S\"\nze       = 0.21\npfc      = \"1.3 kA\"\n\n"
      "[[circuit]]\nref    = \"3\"\nname   = \"Socket-outlets\"\ntype   = \"ring final\"\n"
      "device = \"RCBO B32, 30 mA type A, 6 kA\"\ncable  = { line = 2.5, cpc = 1.5 }\n\n"
      "[circuit.dead]\nr1 = 0.32\nrn = 0.33\nr2 = 0.52\nR1R2 = 0.25\n"
      "insulation = { volts = 500, live_live = \">999\", live_earth = \">999\" }\npolarity = "
      "true\n\n"
      "[circuit.live]\npolarity = true\nzs  = 0.46\nrcd = { trip_ms = 24, test_button = true }");
  out.heading("SEE ALSO");
  out.paragraph("ohmleaf(1), ohmleaf-check(1), ohmleaf-installer(5), ohmleaf-readings(7)");
  page.roff = out.text();
  return page;
}

ManualPage installer_page() {
  ManualPage page{"ohmleaf-installer", 5, "the firm, its people, instruments and accessories", {}};
  Roff out = new_page(page.name, 5);
  start_page(out, page.name, page.about);
  out.paragraph(
      "One installer.toml serves every job below its folder; where there is none, the one in "
      "$XDG_CONFIG_HOME/ohmleaf (~/.config/ohmleaf) does. It is never embedded whole: a "
      "certificate carries an extract with what it rests on.");
  out.paragraph(kTomlWords);
  out.heading("KEYS");
  table_of(out, record::installer_shape(), "");
  out.heading("SEE ALSO");
  out.paragraph("ohmleaf(1), ohmleaf-job(5)");
  page.roff = out.text();
  return page;
}

void form_part(Roff& out, std::string_view heading, layout::FormPart part) {
  out.subheading(heading);
  for (const layout::FormKey& key : layout::form_keys(part)) {
    if (key.name == "type") continue;
    std::string text(key.help);
    text[0] = text[0] >= 'a' && text[0] <= 'z' ? static_cast<char>(text[0] - 32) : text[0];
    text += ".";
    if (!key.words.empty())
      text += " One of: " + join({key.words.begin(), key.words.end()}, ", ") + ".";
    if (key.most > 0)
      text += " From " + std::to_string(key.least) + " to " + std::to_string(key.most) + ".";
    if (key.required) text += " Needed.";
    out.item(key.name, text);
  }
}

ManualPage form_page() {
  ManualPage page{"ohmleaf-form", 5, "a document: what is printed, and where", {}};
  Roff out = new_page(page.name, 5);
  start_page(out, page.name, page.about);
  out.paragraph(
      "A form is data. Copy one into forms/ beside your installer.toml and it is yours to change: "
      "order, words, columns, colours. `ohmleaf forms --paths` lists every value that it may show, "
      "`ohmleaf forms --check FILE` says what is wrong with it. A wrong path is an error with its "
      "line, never an empty cell.");
  out.heading("KEYS");
  using P = layout::FormPart;
  form_part(out, "At the top of the file", P::form);
  form_part(out, "[page]", P::page);
  for (const auto& [word, kind] : layout::kBlockWords)
    form_part(out, "[[block]] of type \"" + std::string(word) + "\"", layout::part_of(kind));
  form_part(out, "A field", P::field);
  form_part(out, "A column", P::column);
  form_part(out, "A piece of text", P::run);
  out.heading("SEE ALSO");
  out.paragraph("ohmleaf(1), ohmleaf-forms(1)");
  page.roff = out.text();
  return page;
}

}  // namespace

std::vector<ManualPage> file_pages() {
  std::vector<ManualPage> out;
  out.push_back(job_page());
  out.push_back(installer_page());
  out.push_back(form_page());
  out.push_back(readings_page());
  return out;
}

}  // namespace ohmleaf::cli
