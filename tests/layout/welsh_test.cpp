#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <set>

#include "base/text.h"
#include "checks/bench.h"
#include "layout/support.h"
#include "layout/translation.h"
#include "places.h"
#include "record/read.h"

// Is the Welsh complete? Every literal of the words file is put between marks, every form is laid
// out with every sample, sound job and planted mistake, and the pages are read: what stands outside
// of the marks must be a number, a unit, a name, or the client's or the installer's own words. This
// finds a text whichever way it reached the page.

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

constexpr std::string_view kOpen = "⟦", kClose = "⟧";

/// So narrow that no line breaks within a text.
class NarrowMetrics final : public FontMetrics {
 public:
  Pt width(Face, Pt, std::string_view text) const override {
    return {static_cast<std::int32_t>(text.size())};
  }
  bool has_glyph(Face, char32_t) const override { return true; }
  Pt ascent(Face, Pt size) const override { return {size.milli * 95 / 100}; }
  Pt descent(Face, Pt size) const override { return {size.milli * 22 / 100}; }
  Pt cap_height(Face, Pt size) const override { return {size.milli * 72 / 100}; }
};

/// Names of standards' publishers, of books and of pages: a reader looks them up as they are.
/// Words of the job file's own language, which are keys, stay as they are typed.
const std::vector<std::string> kTitles{"Linsley",
                                       "Basic Electrical Installation Work",
                                       "Scaddan, Electrical Installation Work",
                                       "SSEN ForContractors page",
                                       "Electrical Wholesaler, May",
                                       "Wiring Matters",
                                       "BEIW",
                                       "Benning",
                                       "Kewtech",
                                       "Locke",
                                       "scribd",
                                       "fliphtml5",
                                       "yudu",
                                       "pdfcoffee",
                                       "ohmleaf test",
                                       "Draft"};

std::string spaced(std::string text) {
  for (auto at = text.find("\u00A0"); at != std::string::npos; at = text.find("\u00A0"))
    text.replace(at, 2, " ");
  return text;
}

Translation welsh() {
  Sources sources;
  Diagnostics found;
  const std::string path = std::string(source_root()) + "/forms/words-cymraeg.toml";
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in);
  const SourceId id = sources.add("words-cymraeg.toml", {std::istreambuf_iterator<char>(in), {}});
  auto t = load_translation(sources, id, found);
  for (const std::string& line : described(sources, found)) FAIL_CHECK(line);
  REQUIRE(t);
  return std::move(*t);
}

std::string marked(const std::string& text) {
  if (trim(text).empty()) return text;
  return std::string(kOpen) + text + std::string(kClose);
}

Pattern marked(Pattern p) {
  for (std::string& l : p.translated) l = marked(l);
  return p;
}

/// The words file with every literal between marks.
std::shared_ptr<const Translation> marked_welsh() {
  const Translation plain = welsh();
  auto out = std::make_shared<Translation>();
  out->language = plain.language;
  for (const Pattern& p : plain.texts()) out->add_text(marked(p));
  for (const auto& [key, p] : plain.forms()) out->add_form(marked(p));
  for (const auto& [key, word] : plain.words) {
    std::string marked_word;
    if (key == "months") {
      for (const std::string_view month : split(word, ' '))
        marked_word += (marked_word.empty() ? "" : " ") + marked(std::string(month));
    } else {
      marked_word = key == "draft_mark" ? word : marked(word);
    }
    out->words[key] = marked_word;
  }
  return out;
}

std::string outside_marks(std::string text) {
  for (auto open = text.find(kOpen); open != std::string::npos; open = text.find(kOpen)) {
    const auto close = text.find(kClose, open);
    if (close == std::string::npos) return text.substr(0, open);
    text.replace(open, close + kClose.size() - open, " \n ");
  }
  const auto rest = text.find(kClose);
  return rest == std::string::npos ? text : text.substr(rest + kClose.size());
}

void collect(const record::View& view, std::set<std::string>& out) {
  if (view.kind == record::View::Kind::text && has_words(view.text))
    for (const std::string_view line : split(view.text, '\n'))
      if (line.size() > 1) out.insert(std::string(trim(line)));
  for (const auto& m : view.members) collect(m.second, out);
  for (const record::View& item : view.items) collect(item, out);
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The texts of a job file as they were written, the reasons of "N/A: …" by themselves.
void quoted(const std::string& toml, std::set<std::string>& out) {
  const auto parts = split(toml, '"');
  for (std::size_t i = 1; i < parts.size(); i += 2) {
    std::string_view text = parts[i];
    for (const std::string_view mark : {"N/A: ", "LIM: "})
      if (text.starts_with(mark)) text.remove_prefix(mark.size());
    if (text.find('\n') != std::string_view::npos || !has_words(text)) continue;
    out.insert(std::string(text));
    std::string turned(text);  // as it begins a sentence, or stands in one
    if (is_letter(turned[0])) turned[0] = static_cast<char>(turned[0] ^ 0x20);
    out.insert(turned);
  }
}

void cut(std::string& text, std::string_view phrase) {
  std::size_t from = 0;
  for (auto at = text.find(phrase); at != std::string::npos; at = text.find(phrase, from)) {
    const std::size_t end = at + phrase.size();
    from = end;
    const bool whole = (at == 0 || !is_letter(text[at - 1]) || !is_letter(text[at])) &&
                       (end == text.size() || !is_letter(text[end]) || !is_letter(text[end - 1]));
    if (!whole) continue;
    text.replace(at, phrase.size(), " ");
    from = at + 1;
  }
}

/// Addresses on the web and names of files.
bool is_address(std::string_view token) {
  const auto dot = token.find('.');
  return dot != std::string_view::npos && dot > 0 && dot + 1 < token.size() &&
         token[dot + 1] >= 'a' && token[dot + 1] <= 'z';
}

/// The pattern that a leftover asks for: numbers become holes.
std::string wanted(std::string_view leftover) {
  std::string out;
  bool number = false;
  for (const char c : leftover) {
    const bool digit = c >= '0' && c <= '9';
    if (digit && !number) out += "{}";
    number = digit || (number && (c == '.' || c == ','));
    if (!digit && !(number && (c == '.' || c == ','))) out += c;
  }
  return out;
}

class Reader {
 public:
  Reader() : translation_(marked_welsh()) {
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(source_root()) + "/forms")) {
      const std::string name = entry.path().stem().string();
      if (name.starts_with("theme-") || name.starts_with("words-")) continue;
      std::vector<std::string> untranslated;
      const Form form = form_from(read_form(name), name + ".toml");
      forms_.emplace(name, translated(form, translation_, &untranslated));
      for (const std::string& key : untranslated) missing_[key] = "form " + name;
    }
    collect(record::view_of(bench::installer()), installer_words_);
    for (const record::Person& p : bench::installer().people)
      if (p.role) installer_words_.insert(ascii_lower(*p.role));
    for (const auto& info : checks::all_checks()) installer_words_.insert(std::string(info.id));
  }

  void job(const std::string& name, const std::string& text, bool every_form) {
    const record::Job job = bench::job_of(text);
    IssueFacts facts;
    facts.draft = !every_form;
    facts.number = "HL-0017";
    facts.revision = every_form ? 2 : 1;
    if (every_form) facts.replaces = "revision 1";
    facts.issued = "2026-11-21";
    facts.program = "ohmleaf test";
    const checks::Report report = bench::report_of(job);
    const record::View view = document_view(job, bench::installer(), report, facts).whole();
    std::set<std::string> own = installer_words_;
    collect(record::view_of(job), own);
    quoted(text, own);
    std::vector<std::string> phrases(own.begin(), own.end());
    phrases.insert(phrases.end(), kTitles.begin(), kTitles.end());
    std::stable_sort(phrases.begin(), phrases.end(),
                     [](const auto& a, const auto& b) { return a.size() > b.size(); });
    for (const auto& [form_name, form] : forms_) {
      if (!every_form && form_name != "minor-works") continue;
      Diagnostics found;
      const auto document = lay_out(form, view, NarrowMetrics(), {}, found);
      REQUIRE(document);
      CHECK(document->language == "cy");
      pages(*document, name + ", " + form_name, phrases);
    }
  }

  int report() const {
    for (const auto& [pattern, where] : missing_) {
      FAIL_CHECK("no Welsh for \"" << pattern << "\" (" << where << ")");
      std::cout << "wanted: \"" << pattern << "\" = \"\"\n";
    }
    return texts_;
  }

 private:
  void pages(const Document& d, const std::string& where, const std::vector<std::string>& own) {
    for (const Page& page : d.pages)
      for (const std::string& t : texts_of(page)) check(t, where, own);
    for (const Bookmark& b : d.bookmarks) check(b.title, where + ", bookmark", own);
    for (const Node& n : d.nodes) check(n.alt, where + ", alternative text", own);
    check(d.title, where + ", title", {});
  }

  void check(const std::string& text, const std::string& where,
             const std::vector<std::string>& own) {
    ++texts_;
    if (!seen_.insert(text).second) return;
    const std::string outside = outside_marks(spaced(text));
    std::string left;
    for (const std::string_view token : split(outside, ' '))
      if (!is_address(token)) left += (left.empty() ? "" : " ") + std::string(token);
    if (!has_words(left)) return;
    for (const std::string& phrase : own) cut(left, spaced(phrase));
    for (const std::string_view rest : split(left, '\n'))
      if (has_words(rest)) missing_.emplace(wanted(trim(rest)), where + ": " + text);
  }

  std::shared_ptr<const Translation> translation_;
  std::map<std::string, Form> forms_;
  std::set<std::string> installer_words_, seen_;  // and the names of the checks
  std::map<std::string, std::string> missing_;
  int texts_ = 0;
};

/// Set where the sanitizers run: what differs only in its words need not be looked at twice.
const bool kThinned = std::getenv("OHMLEAF_THINNED") != nullptr;

struct Planted {
  std::string job, from, to;
  int nth = 1;
};

std::vector<Planted> planted() {
  std::ifstream in(std::string(source_root()) + "/tests/checks/mutations.tsv");
  REQUIRE(in);
  std::vector<Planted> out;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line.front() == '#' || line.starts_with("slip\t")) continue;
    for (auto at = line.find("\\n"); at != std::string::npos; at = line.find("\\n"))
      line.replace(at, 2, "\n");
    const auto cells = split(line, '\t');
    REQUIRE(cells.size() == 7);
    out.push_back({std::string(cells[1]), std::string(cells[3]), std::string(cells[4]),
                   std::stoi(std::string(cells[2]))});
  }
  return out;
}

}  // namespace

TEST_CASE("in Welsh every text of every page is Welsh") {
  Reader reader;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(source_root()) + "/samples"))
    if (entry.is_directory()) {
      const std::string name = entry.path().filename().string();
      reader.job(name, bench::sample_text(name), true);
    }
  // Texts are the same under the sanitizers, where this takes ten times as long: a part will do.
  int job = 0;
  for (const std::string& name : bench::sound_names())
    if (!kThinned || ++job % 3 == 0) reader.job(name, bench::sound_text(name), true);
  for (const Planted& p : kThinned ? std::vector<Planted>() : planted())
    reader.job(p.job + " with " + p.to,
               bench::replaced(bench::any_text(p.job), p.from, p.to, p.nth), false);
  CHECK(reader.report() > 10'000);
}

TEST_CASE("what is the client's or the installer's own is never translated") {
  auto t = std::make_shared<Translation>(welsh());
  Case c = plain_case();
  c.job.premises = text("not recorded");
  c.job.client = text("installation");
  c.job.circuits.front().name = text("shower");
  const Form form = translated(form_from(read_form("minor-works")), t);
  const Document d = lay_out_or_fail(form, c.view());
  bool premises = false, client = false, circuit = false, kind = false;
  for (const Page& page : d.pages) {
    premises = premises || page_says(page, "not recorded");
    client = client || page_says(page, "installation");
    circuit = circuit || page_says(page, "shower");
    kind = kind || page_says(page, "Cylch terfynol");
  }
  CHECK(premises);
  CHECK(client);
  CHECK(circuit);
  CHECK(kind);
}
