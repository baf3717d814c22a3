#include "support.h"

#include <doctest/doctest.h>
#include <stdlib.h>
#include <sys/wait.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/files.h"

namespace ohmleaf::pdf::test {

using namespace layout;
using nlohmann::json;

Maker::Maker() {
  document.title = "Sample of a certificate";
  document.nodes.push_back({Role::document, kArtifact, "", Scope::none});
  page();
}

NodeId Maker::node(Role role, NodeId parent) {
  document.nodes.push_back({role, parent, "", Scope::none});
  return static_cast<NodeId>(document.nodes.size()) - 1;
}

NodeId Maker::figure(NodeId parent, std::string alt) {
  const NodeId made = node(Role::figure, parent);
  document.nodes.back().alt = std::move(alt);
  return made;
}

NodeId Maker::header(NodeId row, Scope scope) {
  const NodeId made = node(Role::header_cell, row);
  document.nodes.back().scope = scope;
  return made;
}

void Maker::text(int x, int y, std::string text, NodeId node, Face face) {
  frame(TextFrame{{x * 1000}, {y * 1000}, 8_pt, face, {26, 32, 34}, std::move(text), node, false});
}

void Maker::frame(Frame frame) {
  document.pages.back().frames.push_back(std::move(frame));
}
void Maker::page() {
  document.pages.push_back({595.276_pt, 841.89_pt, {}});
}

namespace {

void add_table(Maker& make, NodeId section) {
  const NodeId table = make.node(Role::table, section);
  const NodeId head = make.node(Role::row, make.node(Role::table_head, table));
  make.frame(RectFrame{50_pt, 150_pt, 400_pt, 16_pt, Color{243, 245, 244}, {}, {}, 3_pt});
  int x = 54;
  for (const char* name : {"Circuit", "Zs", "Headroom"}) {
    make.text(x, 161, name, make.header(head, Scope::column), Face::bold);
    x += 100;
  }
  const NodeId body = make.node(Role::table_body, table);
  for (int i = 1; i <= 2; ++i) {
    const NodeId row = make.node(Role::row, body);
    const int y = 161 + 14 * i;
    make.text(54, y, "Circuit " + std::to_string(i), make.header(row, Scope::row));
    make.text(154, y, i == 1 ? "0.43 Ω" : "0.51 Ω", make.node(Role::cell, row));
    const NodeId bar = make.figure(make.node(Role::cell, row), "31 % of the limit");
    make.frame(RectFrame{
        {254'000}, {y * 1000 - 6000}, 60_pt, 6_pt, Color{225, 225, 225}, {}, {}, 3_pt, bar});
    make.frame(
        RectFrame{{254'000}, {y * 1000 - 6000}, 19_pt, 6_pt, Color{31, 95, 91}, {}, {}, 3_pt, bar});
    make.frame(
        LineFrame{50_pt, {y * 1000 + 4000}, 450_pt, {y * 1000 + 4000}, 0.4_pt, {198, 206, 203}});
  }
  const NodeId row = make.node(Role::row, body);
  const NodeId wide = make.node(Role::cell, row);
  make.document.nodes.back().column_span = 3;
  make.text(54, 203, "Nothing else was tested.", wide);
}

void add_figures(Maker& make, NodeId section) {
  const NodeId tick = make.figure(section, "Pass");
  make.frame(PolygonFrame{{{60_pt, 290_pt}, {66_pt, 300_pt}, {80_pt, 275_pt}, {66_pt, 293_pt}},
                          Color{20, 120, 60},
                          {},
                          {},
                          tick});
  make.frame(PolygonFrame{
      {{90_pt, 275_pt}, {105_pt, 300_pt}, {75_pt, 300_pt}}, {}, Color{163, 29, 18}, 1.2_pt, tick});
  Image logo;
  logo.width = 8;
  logo.height = 4;
  for (int i = 0; i < 32; ++i) {
    logo.pixels += {static_cast<char>(i * 7), static_cast<char>(90), static_cast<char>(200 - i)};
    logo.alpha += static_cast<char>(255 - i * 4);
  }
  Image grey;
  grey.width = grey.height = 2;
  grey.grey = true;
  grey.pixels = std::string("\0\x55\xAA\xFF", 4);
  make.document.images = {logo, grey};
  make.frame(ImageFrame{120_pt, 270_pt, 80_pt, 40_pt, 0, make.figure(section, "Logo of the firm")});
  make.frame(ImageFrame{320_pt, 270_pt, 20_pt, 20_pt, 1, make.figure(section, "Signature")});
  make.frame(
      RectFrame{220_pt, 270_pt, 80_pt, 40_pt, Color{255, 255, 255}, Color{0, 0, 0}, 0.8_pt, 8_pt});
  make.frame(RectFrame{225_pt, 275_pt, 10_pt, 10_pt, {}, Color{90, 0, 0}, 0.5_pt, {}});
}

}  // namespace

Document sample_document() {
  Maker make;
  const NodeId section = make.node(Role::section, 0);
  make.text(50, 70, "Minor works certificate", make.node(Role::h1, section), Face::bold);
  const NodeId paragraph = make.node(Role::paragraph, section);
  make.text(50, 90, "The first line of a paragraph", paragraph);
  make.text(50, 100, "and its second, on the same page,", paragraph);
  make.text(50, 112, "Zs 0.43 Ω ≤ 1.37 Ω, IΔn = 30 mA, 45 °C, 2.5 mm², ½ ± × ÷ ≈ √ → ✓",
            make.node(Role::paragraph, section));
  make.text(50, 124, "Ŵyn Ŷ ŵŷ Ẁ Ẃ Ẅ Ỳ; ḃċḋḟġṁṗṡṫ; Łódź, zażółć gęślą jaźń; “a” ‘b’ – — …",
            make.node(Role::paragraph, section));
  make.text(50, 136, "In italic: from memory.", make.node(Role::paragraph, section), Face::italic);
  make.text(50, 148, "Schedule of tests", make.node(Role::h2, section), Face::bold);
  add_table(make, section);
  add_figures(make, section);
  const NodeId item = make.node(Role::list_item, make.node(Role::list, section));
  make.text(50, 330, "•", make.node(Role::list_label, item));
  make.text(60, 330, "Spare batteries were left.", make.node(Role::list_body, item));
  make.text(50, 345, "A note below.", make.node(Role::note, section));
  make.frame(TextFrame{30_pt, 400_pt, 9_pt, Face::bold, {163, 29, 18}, "DRAFT", kArtifact, true});
  make.page();
  make.text(50, 70, "goes on overleaf.", paragraph);
  make.text(50, 820, "page 2 of 2", kArtifact);
  make.document.bookmarks = {{"Certificate", 0, 50_pt, 0},
                             {"Circuit 1: Ω", 0, 170_pt, 1},
                             {"Circuit 2", 0, 184_pt, 1},
                             {"Overleaf", 1, 60_pt, 0}};
  return make.document;
}

Meta sample_meta() {
  Meta meta;
  meta.title = "Minor works certificate A-0042: 9 Tallow Yard & Ŵyn <Ω>";
  meta.author = "Hallow & Sons";
  meta.subject = "Socket-outlets added to a ring final circuit";
  meta.keywords = "minor works, A-0042";
  meta.creator = "ohmleaf 0.1.0";
  meta.created = *Instant::parse("2026-11-20T09:12:00Z");
  meta.id_seed = "digest of all input";
  std::string every_byte;
  for (int i = 0; i < 256; ++i) every_byte += static_cast<char>(i);
  using Relation = Attachment::Relation;
  meta.attachments = {{"job.toml", "application/toml", "The job as it was written", "format = 1\n",
                       Relation::source},
                      {"form.toml", "application/toml", "The form", "", Relation::supplement},
                      {"logo-é.png", "image/png", "The firm's logo", every_byte, Relation::data}};
  return meta;
}

std::string rendered(const Document& document, const Meta& meta) {
  Diagnostics out;
  const std::optional<std::string> bytes = render(document, meta, out);
  std::string messages;
  for (const Diagnostic& d : out.all()) messages += d.id + ": " + d.message + "\n";
  INFO(messages);
  REQUIRE(bytes.has_value());
  CHECK(out.empty());
  return *bytes;
}

std::string rendered_sample() {
  return rendered(sample_document(), sample_meta());
}

bool subject_is_sample() { return std::getenv("OHMLEAF_PDF") == nullptr; }

const std::string& subject() {
  static const std::string bytes = [] {
    if (subject_is_sample()) return rendered_sample();
    std::ifstream in(std::getenv("OHMLEAF_PDF"), std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    REQUIRE(in.good());
    return text.str();
  }();
  return bytes;
}

const Pdf& subject_pdf() {
  static const Pdf pdf(subject());
  return pdf;
}

bool subject_is_signed() {
  static const bool is = has(subject(), "/SubFilter /ETSI.CAdES.detached");
  return is;
}

std::vector<std::string> refusals(const Document& document, const Meta& meta) {
  Diagnostics out;
  CHECK_FALSE(render(document, meta, out).has_value());
  CHECK_FALSE(out.ok());
  std::vector<std::string> messages;
  for (const Diagnostic& d : out.all()) messages.push_back(d.id + ": " + d.message);
  return messages;
}

TemporaryFile::TemporaryFile(std::string_view bytes, std::string_view name) {
  folder_ = make_scratch_folder(std::filesystem::temp_directory_path(), "ohmleaf-pdf-").value();
  path_ = folder_ + "/" + std::string(name);
  std::ofstream(path_, std::ios::binary) << bytes;
}

TemporaryFile::~TemporaryFile() {
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

Output run(const std::string& command) {
  Output out;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  char part[4096];
  for (std::size_t size = 0; (size = fread(part, 1, sizeof part, pipe)) > 0;) {
    out.text.append(part, size);
  }
  const int status = pclose(pipe);
  out.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return out;
}

std::string look(const std::string& command, std::string_view pdf) {
  const TemporaryFile file(pdf);
  std::string filled = command;
  filled.replace(filled.find("{}"), 2, "'" + file.path() + "'");
  const Output out = run(filled);
  INFO(filled, "\n", out.text);
  REQUIRE(out.status == 0);
  return out.text;
}

namespace {

std::string base64_decoded(std::string_view text) {
  constexpr std::string_view kDigits =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  unsigned bits = 0;
  int have = 0;
  for (const char c : text) {
    const std::size_t digit = kDigits.find(c);
    if (digit == std::string_view::npos) break;
    bits = bits << 6 | static_cast<unsigned>(digit);
    have += 6;
    if (have < 8) continue;
    have -= 8;
    out += static_cast<char>(bits >> have & 0xFF);
  }
  return out;
}

}  // namespace

Pdf::Pdf(std::string_view bytes) {
  const std::string text =
      look("qpdf --json=2 --json-stream-data=inline --decode-level=generalized {}", bytes);
  objects_ = json::parse(text).at("qpdf").at(1);
}

json Pdf::value(const json& reference) const {
  if (!reference.is_string()) return reference;
  const std::string key = "obj:" + reference.get<std::string>();
  if (!objects_.contains(key)) return reference;
  const json& object = objects_.at(key);
  return object.contains("stream") ? object.at("stream").at("dict") : object.at("value");
}

std::string Pdf::stream(const json& reference) const {
  const json& object = objects_.at("obj:" + reference.get<std::string>());
  return base64_decoded(object.at("stream").at("data").get<std::string>());
}

std::vector<json> Pdf::pages() const {
  std::vector<json> pages;
  const json kids = value(catalog().at("/Pages")).at("/Kids");
  for (const json& kid : kids) pages.push_back(value(kid));
  REQUIRE_FALSE(pages.empty());
  return pages;
}

std::vector<json> Pdf::of_type(const std::string& type) const {
  std::vector<json> found;
  for (const auto& [key, object] : objects_.items()) {
    const json dict =
        object.contains("stream") ? object.at("stream").at("dict") : object.at("value");
    if (dict.is_object() && dict.value("/Type", "") == type) found.push_back(dict);
  }
  return found;
}

std::string plain(const json& string) {
  const auto text = string.get<std::string>();
  REQUIRE(text.starts_with("u:"));
  return text.substr(2);
}

std::string between(std::string_view text, std::string_view before, std::string_view after) {
  const std::size_t begin = text.find(before);
  if (begin == std::string_view::npos) return {};
  const std::size_t end = text.find(after, begin + before.size());
  if (end == std::string_view::npos) return {};
  return std::string(text.substr(begin + before.size(), end - begin - before.size()));
}

std::size_t count(std::string_view text, std::string_view part) {
  std::size_t times = 0;
  for (std::size_t at = text.find(part); at != std::string_view::npos;
       at = text.find(part, at + part.size())) {
    ++times;
  }
  return times;
}

bool has(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

}  // namespace ohmleaf::pdf::test
