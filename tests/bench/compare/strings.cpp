// "bench_strings JOB FILE": the strings and rules that `ohmleaf draft JOB` puts on its pages, one a
// line, for the bare programs that draw the same: a tab between fields, lengths in points from
// the top left.
//   page WIDTH HEIGHT | text X BASELINE SIZE FACE ROTATED STRING | rule X1 Y1 X2 Y2 WIDTH
//   | box X Y WIDTH HEIGHT FILLED | form X1 Y1 X2 Y2 … (a closed polygon)
#include <fmt/format.h>

#include <cstdio>
#include <fstream>

#include "app/documents.h"
#include "app/workspace.h"
#include "base/files.h"
#include "checks/check.h"
#include "layout/form.h"
#include "pdf/pdf.h"

namespace {

using namespace ohmleaf;
using namespace ohmleaf::layout;

double points(Pt p) {
  return p.milli / 1000.0;
}

struct Writer {
  std::string& out;
  void operator()(const TextFrame& t) const {
    out +=
        fmt::format("text\t{:.3f}\t{:.3f}\t{:.3f}\t{}\t{}\t{}\n", points(t.x), points(t.baseline),
                    points(t.size), static_cast<int>(t.face), t.rotated ? 1 : 0, t.text);
  }
  void operator()(const RectFrame& r) const {
    out += fmt::format("box\t{:.3f}\t{:.3f}\t{:.3f}\t{:.3f}\t{}\n", points(r.x), points(r.y),
                       points(r.width), points(r.height), r.fill ? 1 : 0);
  }
  void operator()(const LineFrame& l) const {
    out += fmt::format("rule\t{:.3f}\t{:.3f}\t{:.3f}\t{:.3f}\t{:.3f}\n", points(l.x1), points(l.y1),
                       points(l.x2), points(l.y2), points(l.width));
  }
  void operator()(const PolygonFrame& p) const {
    out += "form";
    for (const Point& at : p.points)
      out += fmt::format("\t{:.3f}\t{:.3f}", points(at.x), points(at.y));
    out += "\n";
  }
  void operator()(const SymbolFrame& s) const {
    for (PolygonFrame shape : s.symbol->shapes) {
      for (Point& at : shape.points)
        at = {s.x + Pt{static_cast<std::int32_t>(std::int64_t{at.x.milli} * s.size.milli / 1000)},
              s.y + Pt{static_cast<std::int32_t>(std::int64_t{at.y.milli} * s.size.milli / 1000)}};
      (*this)(shape);
    }
  }
  void operator()(const ImageFrame&) const {}
};

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  Sources sources;
  Diagnostics out;
  app::Places places;
  places.data_folder = program_folder().parent_path() / "share" / "ohmleaf";
  const auto w = app::load(argv[1], places, sources, out);
  if (!w) return 1;
  const auto stationery = app::load_stationery(*w, app::document_names(w->job), sources, out);
  if (!stationery) return 1;
  const checks::Report report = checks::check(w->job, w->installer);
  IssueFacts facts;
  facts.draft = true;
  facts.program = "ohmleaf";
  const record::View view = document_view(w->job, w->installer, report, facts);
  std::vector<const Form*> forms;
  for (const app::LoadedForm& f : stationery->forms) forms.push_back(f.form.get());
  const auto document = lay_out(forms, view, pdf::font_metrics(), {}, out);
  if (!document) return 1;
  std::string text;
  for (const Page& page : document->pages) {
    text += fmt::format("page\t{:.3f}\t{:.3f}\n", points(page.width), points(page.height));
    for (const Frame& frame : page.frames) std::visit(Writer{text}, frame);
  }
  std::ofstream file(argv[2], std::ios::binary);
  return (file << text).flush() ? 0 : 3;
}
