#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "app/stationery.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/diagnostic_text.h"
#include "layout/model.h"
#include "record/view.h"

// `ohmleaf forms`: what there is to print with, what a form may bind, and whether a file is right.

namespace ohmleaf::cli {
namespace {

struct FormsOptions {
  Common common;
  std::string check;
  bool paths = false;
};

using record::Shape;

// ------------------------------------------------------------------------------------- the paths

/// One path as a form writes it. `repeat`: the list whose element it is read from, else empty.
struct PathRow {
  std::string path, type, unit, help, repeat;
  bool own = false;
};

bool is_cell(const Shape& s) {
  return s.kind == record::View::Kind::group && s.find("limit") != nullptr &&
         s.find("verdict") != nullptr;
}

std::string type_of(const Shape& s) {
  if (is_cell(s)) return "reading";
  if (s.kind == record::View::Kind::list && s.members.empty()) return "list of texts";
  return s.type;
}

void collect(const Shape& shape, const std::string& prefix, const std::string& repeat,
             std::vector<PathRow>& out) {
  for (const Shape& m : shape.members) {
    const std::string path = prefix + (m.name == "*" ? "NAME" : m.name);
    out.push_back({path, type_of(m), m.unit, m.help, repeat, m.own});
    if (m.kind == record::View::Kind::group) collect(m, path + ".", repeat, out);
    if (m.kind == record::View::Kind::list) collect(m, ".", path, out);
  }
}

std::vector<PathRow> path_rows() {
  std::vector<PathRow> out;
  collect(layout::document_shape(), "", "", out);
  return out;
}

std::string about(const PathRow& row) {
  std::string out = row.type;
  if (!row.unit.empty()) out += " in " + row.unit;
  if (!row.help.empty()) out += ": " + row.help;
  return out;
}

std::string paths_text(const Style& style, int width) {
  std::string text;
  std::string repeat;
  for (const PathRow& row : path_rows()) {
    if (row.repeat != repeat) {
      repeat = row.repeat;
      text += style(Tone::strong, repeat.empty() ? std::string("Of the record itself")
                                                 : "Inside repeat = \"" + repeat + "\"") +
              "\n";
    }
    const std::string indent(32, ' ');
    if (code_point_count(row.path) > 28)
      text += "  " + row.path + "\n" + wrapped(about(row), indent, indent, width);
    else
      text += wrapped(about(row), "  " + padded(row.path, 28) + "  ", indent, width);
  }
  return text;
}

Json paths_json() {
  Json list = Json::array();
  for (const PathRow& row : path_rows()) {
    Json j = Json::object();
    j.set("path", row.path).set("repeat", row.repeat).set("type", row.type);
    j.set("unit", row.unit).set("help", row.help).set("own_words", row.own);
    list.push(std::move(j));
  }
  return list;
}

// -------------------------------------------------------------------------------------- the lists

std::string list_text(const app::StationeryList& all, const Style& style) {
  std::string text;
  const auto section = [&](const char* title, const std::vector<app::StationeryFile>& files) {
    text += style(Tone::strong, title) + "\n";
    for (const app::StationeryFile& f : files) {
      std::string line = "  " + padded(visible(f.name), 18) + "  " + visible(f.title);
      if (f.path.empty()) line += style(Tone::quiet, "  (built in)");
      if (f.broken) line += "does not load: ohmleaf forms --check " + visible(f.path.string());
      if (f.own) line += style(Tone::quiet, "  (yours)");
      text += line + "\n";
    }
  };
  section("Documents", all.documents);
  section("Themes", all.themes);
  section("Languages", all.languages);
  return text +
         "\nA document or a theme is a text file: copy it into forms/ beside your installer.toml "
         "and "
         "change it.\n`ohmleaf forms --paths` lists what a form may bind; `ohmleaf forms --check "
         "FILE` checks one.\n";
}

Json files_json(const std::vector<app::StationeryFile>& files) {
  Json list = Json::array();
  for (const app::StationeryFile& f : files) {
    Json j = Json::object();
    j.set("name", f.name).set("title", f.title).set("language", f.language);
    j.set("file", f.path.string()).set("own", f.own).set("loads", !f.broken);
    list.push(std::move(j));
  }
  return list;
}

int run_list(Environment& e, const FormsOptions& o) {
  if (o.paths && !o.common.json)
    return say(e, paths_text(style_for(o.common, e, false), text_width(e)));
  const app::StationeryList all = app::list_stationery(places_of(o.common, e));
  if (!o.common.json) return report(e, o.common, list_text(all, style_for(o.common, e, false)));
  Json j = Json::object();
  j.set("format", 1).set("documents", files_json(all.documents));
  j.set("themes", files_json(all.themes)).set("languages", files_json(all.languages));
  if (o.paths) j.set("paths", paths_json());
  return say(e, j.dump() + "\n");
}

// -------------------------------------------------------------------------------------- the check

std::string_view kind_words(app::StationeryKind kind) {
  switch (kind) {
    case app::StationeryKind::form:
      return "a document";
    case app::StationeryKind::theme:
      return "a theme";
    case app::StationeryKind::words:
      return "a language";
  }
  return {};
}

int run_check(Environment& e, const FormsOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto checked = app::check_stationery(o.check, places_of(o.common, e), sources, out);
  out.sort();
  if (!checked) {
    return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
  }
  if (o.common.json) {
    Json missing = Json::array();
    for (const std::string& m : checked->untranslated) missing.push(m);
    Json j = Json::object();
    j.set("format", 1).set("file", o.check).set("kind", kind_words(checked->kind));
    j.set("errors", Json::array()).set("untranslated", std::move(missing));
    return say(e, j.dump() + "\n");
  }
  complain(e, out, sources, o.common);
  std::string text =
      fmt::format("{}: {}, nothing wrong\n", visible(o.check), kind_words(checked->kind));
  if (!checked->untranslated.empty()) {
    text += fmt::format("texts of the forms that have no line yet and stay English: {}\n",
                        checked->untranslated.size());
    for (const std::string& m : checked->untranslated)
      text += "  " + visible(Json(m).dump()) + " = \"\"\n";
  }
  return say(e, text);
}

}  // namespace

void add_forms(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<FormsOptions>();
  Command* c = app.add_subcommand(
      "forms",
      "List documents, themes, languages, and what a form may bind; check a file of yours");
  c->add_option("--check", o->check, "Check one form, theme or words file")->type_name("FILE");
  c->add_flag("--paths", o->paths, "Every path that a form may bind, with its meaning and unit");
  add_common(*c, o->common, kInstaller | kJson | kVolume);
  add_examples(
      *c,
      "  ohmleaf forms\n  ohmleaf forms --paths\n  ohmleaf forms --check forms/minor-works.toml");
  c->callback(
      [o, &e, &exit_code] { exit_code = o->check.empty() ? run_list(e, *o) : run_check(e, *o); });
}

}  // namespace ohmleaf::cli
