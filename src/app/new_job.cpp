#include "app/new_job.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "app/answers.h"
#include "app/blanks.h"
#include "app/toml_write.h"
#include "base/text.h"
#include "checks/check.h"
#include "checks/expected.h"
#include "record/not_known.h"
#include "record/read.h"
#include "record/words.h"

namespace ohmleaf::app {
namespace {

using checks::Step;

constexpr std::size_t kCommentColumn = 30;  ///< where what is said of a line begins
constexpr std::size_t kWidest = 100;        ///< a longer line has its words above it
constexpr const char* kTypicalEarthing = "TN-C-S";

constexpr std::array<std::string_view, 9> kSupplyFacts{"earthing",    "electrode", "main_fuse",
                                                       "main_switch", "rcd",       "voltage",
                                                       "phases",      "neutral",   "other_sources"};
constexpr std::array<std::string_view, 11> kBondingFacts{
    "earthing_conductor", "water",     "water_length",     "gas",   "gas_length",  "oil",
    "oil_length",         "structure", "structure_length", "other", "other_length"};
constexpr std::array<std::string_view, 6> kCircuitFacts{"rcd",    "cable", "feeds",
                                                        "places", "load",  "phase"};

const TomlNode* child(const TomlNode* node, std::string_view key) {
  return node != nullptr && node->is_table() ? node->find(key) : nullptr;
}

std::string scalar(const TomlNode* node) {
  return node != nullptr && !node->is_table() && !node->is_array() ? node->text : std::string();
}

/// "line and protective conductor together, highest at any point": the first thing that is said.
std::string short_help(const std::string& help) {
  const auto cut = std::min(
      {help.find(';'), help.find(", or one"), help.find(": {"), help.find(", with its unit")});
  return help.substr(0, cut);
}

class Writer {
 public:
  Writer(const NewJob& job, const record::Installer& installer, const Workspace* judged)
      : job_(job), installer_(installer), judged_(judged) {
    if (!judged_) return;
    report_ = checks::check(judged_->job, judged_->installer);
    questions_ = open_questions(*judged_, report_);
  }

  std::string run() {
    head();
    particulars();
    supply();
    table("", "isolation", "isolation.", {});
    bonding();
    const auto circuits = circuits_of_last();
    if (circuits.empty()) {
      circuit(nullptr, 0);
    } else {
      for (std::size_t i = 0; i < circuits.size(); ++i) circuit(circuits[i], static_cast<int>(i));
    }
    table("", "inspection", "inspection.", {});
    table("", "network", "network.", {});
    handover();
    return out_.text();
  }

 private:
  struct Line {
    std::string key, value, comment;
  };

  // ---- lines -----------------------------------------------------------------------------------
  void text(const std::string& line) { out_.line(line); }
  void value(const std::string& indent, const Line& l) {
    out_.value(indent, l.key, l.value, l.comment);
  }
  void blank(const std::string& indent, const std::string& key, const std::string& suggestion,
             const std::string& comment) {
    out_.blank(indent, key, suggestion, comment);
  }

  /// Unit, choice, limit, what to expect: what is to be known while reading.
  std::string facts_of(const Question& q) const {
    std::vector<std::string> parts;
    const record::Shape& s = *q.shape;
    if (s.type == "date and time")
      parts.push_back("as " + job_.date.iso() + "T09:12:00");
    else if (s.type == "date")
      parts.push_back("as " + job_.date.iso());
    else if (s.type.starts_with("fault current"))
      parts.push_back("as \"1.1 kA\"");
    else if (!s.unit.empty())
      parts.push_back(s.unit);
    if (!s.words.empty() && s.words.size() <= 7)
      parts.push_back("\"" + join(s.words, "\", \"") + "\"");
    if (!q.finding.limit.empty()) parts.push_back("limit " + q.finding.limit);
    const std::string expected =
        checks::expected_value(judged_->job, q.finding.circuit, q.finding.cell);
    if (!expected.empty()) parts.push_back("expect " + expected);
    if (const std::string before = last_reading(q.path); !before.empty())
      parts.push_back("last time " + before);
    return join(parts, "; ");
  }

  void ask(const std::string& indent, const std::string& key, const Question& q) {
    const std::string facts = facts_of(q), help = short_help(q.shape->help);
    const std::string both = facts + (facts.empty() ? "" : "; ") + help;
    if (kCommentColumn + 2 + code_point_count(both) <= kWidest) return blank(indent, key, "", both);
    text(indent + "# " + help + ":");
    blank(indent, key, "", facts);
  }

  /// What was read at the last visit: to compare with, not to copy.
  std::string last_reading(const std::string& path) const {
    if (!job_.last || !path.starts_with("supply.")) return {};
    const TomlNode* node = child(job_.last->root.find("supply"), path.substr(7));
    return scalar(node);
  }

  void step(const std::string& indent, Step which) {
    text(fmt::format("{}# {} · {}", indent, static_cast<int>(which) + 1, checks::name(which)));
  }

  /// A table's header, what is known, then every question of it in the order of work.
  void table(const std::string& indent, const std::string& header, const std::string& path,
             const std::vector<Line>& known) {
    std::vector<const Question*> asked;
    for (const Question& q : questions_) {
      const bool given = std::any_of(known.begin(), known.end(),
                                     [&](const Line& l) { return q.path == path + l.key; });
      if (q.path.starts_with(path) && !given) asked.push_back(&q);
    }
    if (known.empty() && asked.empty()) return;
    text("");
    text(indent + "[" + header + "]");
    for (const Line& l : known) value(indent, l);
    std::optional<Step> now;
    for (const Question* q : asked) {
      if (!now || *now != q->step) step(indent, q->step);
      now = q->step;
      ask(indent, q->path.substr(path.size()), *q);
      if (q->path == "supply.ze" || q->path == "supply.ra")
        blank(indent, "reconnected", "", "the earthing conductor is back, and confirmed by test");
    }
  }

  // ---- parts -----------------------------------------------------------------------------------
  void head() {
    std::string title(job_.work->title);
    title.front() = static_cast<char>(title.front() - 'a' + 'A');
    text("# " + title + ": begun with ohmleaf start.");
    text(
        "# A line that begins with # and a key waits for its answer: fill it in and take the # "
        "away, or");
    text(
        "# let `ohmleaf note` ask for one after the other. `ohmleaf check` says what is open. "
        "Ticks are");
    text(
        "# true or false; readings as the instrument shows them: 0.42, \">999\", \"N/A: why\". "
        "The numbers");
    text("# before the headings give the order of work.");
    text(
        "# Isolate, lock off and prove dead first. Dead tests come before live tests: where one "
        "fails");
    text("# or is missing, do not energise; leave isolated and locked off.");
    text("#");
    text("# Look for this first:");
    for (const std::string_view trap : job_.work->traps)
      if (!trap.empty()) text("# - " + std::string(trap));
    text("format   = 1");
  }

  void top(const char* key, const std::string& toml, const std::string& comment = {}) {
    out_.aligned(padded_key(key) + "= " + toml, comment);
  }
  static std::string padded_key(std::string key) {
    key.resize(std::max<std::size_t>(key.size() + 1, 9), ' ');
    return key;
  }

  void particulars() {
    top("kind", toml_text(record::name(job_.work->kind)));
    top("date", job_.date.iso());
    top("person", toml_text(job_.person), "who tests and signs, a key in installer.toml");
    top("premises", toml_text(job_.premises));
    top("client", toml_text(job_.client));
    if (!job_.client_contact.empty()) top("client_contact", toml_text(job_.client_contact));
    text("# Say where, and what exactly:");
    top("work", toml_text(job_.work->done));
    if (!job_.instruments.empty()) {
      std::string list;
      for (const std::string& key : job_.instruments)
        list += (list.empty() ? "" : ", ") + toml_text(key);
      text("instruments = [" + list + "]");
    }
    if (!job_.nation.empty()) top("nation", toml_text(job_.nation));
    if (job_.last)
      for (const char* key : {"dwelling", "premises_kind"})
        if (const TomlNode* node = job_.last->root.find(key)) top(key, toml_value(*node));
    for (const Question& q : questions_)
      if (q.path.find('.') == std::string::npos && q.finding.circuit < 0) ask("", q.path, q);
  }

  template <std::size_t N>
  std::vector<Line> facts(const TomlNode* from, const std::array<std::string_view, N>& keys) const {
    std::vector<Line> out;
    for (const std::string_view key : keys)
      if (const TomlNode* node = child(from, key))
        out.push_back({std::string(key), toml_value(*node), {}});
    if (!out.empty())
      out.front().comment =
          "as on " + job_.last->day.words() + " (" + job_.last->name + "): look again";
    return out;
  }

  /// What earths the installation is looked up on site: a usual arrangement is only supposed.
  void supply() {
    auto known = facts(job_.last ? job_.last->root.find("supply") : nullptr, kSupplyFacts);
    const bool earthed =
        std::any_of(known.begin(), known.end(), [](const Line& l) { return l.key == "earthing"; });
    if (!earthed)
      known.insert(known.begin(),
                   {judged_ ? "# earthing" : "earthing", toml_text(kTypicalEarthing),
                    "usual, and limits below are for it: TN-S, TN-C-S or TT? Look at the intake"});
    table("", "supply", "supply.", known);
  }
  void bonding() {
    table("", "bonding", "bonding.",
          facts(job_.last ? job_.last->root.find("bonding") : nullptr, kBondingFacts));
  }

  /// The circuit of this reference at the last visit, or all of them where the board is replaced.
  std::vector<const TomlNode*> circuits_of_last() const {
    std::vector<const TomlNode*> out;
    const TomlNode* list = job_.last ? job_.last->root.find("circuit") : nullptr;
    if (list == nullptr || !list->is_array() || job_.work->is_new) return out;
    for (const TomlNode& c : list->children) {
      const bool wanted = scalar(c.find("ref")) == job_.ref &&
                          (job_.board.empty() || scalar(c.find("board")) == job_.board);
      if (job_.work->every_circuit || (wanted && out.empty())) out.push_back(&c);
    }
    return out;
  }

  void circuit(const TomlNode* last, int index) {
    const Work& w = *job_.work;
    const std::string path = "circuit[" + std::to_string(index) + "].";
    const auto from_last = [&](const char* key, const std::string& otherwise) {
      const std::string text = scalar(child(last, key));
      return text.empty() ? otherwise : text;
    };
    text("");
    text("[[circuit]]");
    const std::string board = from_last("board", job_.board);
    if (!board.empty()) value("", {"board", toml_text(board), {}});
    const std::string ref =
        from_last("ref", job_.ref.empty() ? std::string(record::kNotKnown) : job_.ref);
    value("", {"ref", toml_text(ref),
               ref == record::kNotKnown ? "the number of its way at the board" : ""});
    value("", {"name",
               toml_text(from_last("name", job_.name.empty() ? std::string(w.name) : job_.name)),
               "as the board's list says it"});
    value("", {"type", toml_text(from_last("type", std::string(record::name(w.type)))), {}});
    if (w.is_new) value("", {"new", "true", {}});
    device(last);
    cable(last);
    if (last != nullptr)
      for (const Line& l : facts(last, kCircuitFacts))
        if (l.key != "cable") value("", {l.key, l.value, {}});
    if (last == nullptr || !child(last, "feeds"))
      value("", {"feeds", "[" + toml_text(w.feeds) + "]", {}});
    if (!w.place.empty() && (last == nullptr || !child(last, "places")))
      value("", {"places", "[" + toml_text(w.place) + "]", {}});
    if (!w.every_circuit) accessory(path);
    table("  ", "circuit.dead", path + "dead.", {});
    table("  ", "circuit.live", path + "live.", {});
  }

  /// Its label decides: a typical one is only supposed, to work out the limits beside the blanks.
  void device(const TomlNode* last) {
    const TomlNode* before = child(last, "device");
    const bool replaced = job_.work->every_circuit;
    if (!job_.device.empty() && !replaced) return value("", {"device", toml_text(job_.device), {}});
    if (before != nullptr && !replaced)
      return value("", {"device", toml_value(*before), "as last time: read its label again"});
    const std::string typical =
        replaced && before ? toml_value(*before) : toml_text(job_.work->device);
    if (!judged_) return value("", {"device", typical, {}});
    blank("", "device", typical,
          replaced && before ? "the old one; limits below are for it: read the new one's label"
                             : "typical, and limits below are for it: read its label");
  }

  void cable(const TomlNode* last) {
    if (const TomlNode* before = child(last, "cable"))
      return value("", {"cable", toml_value(*before), "as last time"});
    const std::string typical =
        fmt::format("{{ line = {}, cpc = {} }}", job_.work->line, job_.work->cpc);
    if (!judged_) return value("", {"cable", typical, {}});
    blank("", "cable", typical, "typical, mm²: read the sizes at the board");
  }

  void accessory(const std::string& path) {
    if (job_.item.empty()) {
      text("");
      text("  # What is fitted, one table for each: an accessory of installer.toml, and where.");
      text("  # [[circuit.accessory]]");
      text("  # item  =");
      text("  # where =");
      return;
    }
    const record::CatalogueItem* item = installer_.item(job_.item);
    const std::string where = job_.where.empty() ? std::string(record::kNotKnown) : job_.where;
    std::vector<Line> known{
        {"item", toml_text(job_.item), item && item->name ? *item->name : std::string()},
        {"where", toml_text(where), where == record::kNotKnown ? "so that it is found again" : ""}};
    if (!job_.work->connection.empty())
      known.push_back({"connection", toml_text(job_.work->connection), ""});
    table("  ", "[circuit.accessory]", path + "accessory[0].", known);
  }

  void handover() {
    text("");
    text("[handover]");
    step("", Step::hand_over);
    const record::Shape* shape = record::job_shape().find("handover");
    for (const record::Shape& key : shape->members) blank("", key.name, "", short_help(key.help));
  }

  const NewJob& job_;
  const record::Installer& installer_;
  const Workspace* judged_;
  checks::Report report_;
  std::vector<Question> questions_;
  Blanks out_{kCommentColumn};
};

/// The text read as a job of this profile; every error goes to `out`.
std::optional<record::Job> read_back(const std::string& text, const record::Installer& installer,
                                     const std::string& folder_name, Sources& sources,
                                     Diagnostics& out) {
  const SourceId source = sources.add("job.toml", text);
  auto job = record::read_job(sources, source, folder_name, out);
  if (!job || !record::check_references(*job, installer, out)) return std::nullopt;
  return job;
}

void hand_over(const Diagnostics& found, Diagnostics& out) {
  for (Diagnostic d : found.all()) {
    d.span = {};  // the text that it points at is nobody's file
    d.labels.clear();
    out.add(std::move(d));
  }
}

}  // namespace

std::optional<std::string> new_job_text(const NewJob& job, const record::Installer& installer,
                                        const std::string& folder_name, Diagnostics& out) {
  Sources sources;
  Diagnostics found;
  Workspace judged;
  auto supposed =
      read_back(Writer(job, installer, nullptr).run(), installer, folder_name, sources, found);
  if (supposed) {
    judged.job = std::move(*supposed);
    judged.installer = installer;
    std::string text = Writer(job, installer, &judged).run();
    if (read_back(text, installer, folder_name, sources, found)) return text;
  }
  hand_over(found, out);
  return std::nullopt;
}

}  // namespace ohmleaf::app
