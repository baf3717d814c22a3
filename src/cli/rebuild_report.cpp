#include "cli/rebuild_report.h"

#include <algorithm>
#include <vector>

#include "app/rebuild.h"
#include "base/json.h"
#include "base/text.h"
#include "base/version.h"

namespace ohmleaf::cli {
namespace {

/// One certificate file and what became of it.
struct Line {
  std::string number;
  int revision = 1;
  std::string program;  ///< that issued it
  const char* result = "not made again";
  bool same = false;
  std::string why;
};

std::string why_not(const Diagnostics& out) {
  for (const Diagnostic& d : out.all())
    if (d.severity == Severity::error) return d.message;
  return "its data no longer read";
}

Line made_again(const Environment& e, const archive::Archive& store, const archive::Record& r) {
  Line line;
  line.number = r.number;
  line.revision = r.revision;
  Diagnostics out;
  Sources sources;
  const auto pdf = store.read(r.number, r.revision, "certificate.pdf", out);
  const auto again = pdf ? app::rebuild(*pdf, e.scratch_folder, sources, out) : std::nullopt;
  if (!again) {
    line.why = why_not(out);
    return line;
  }
  line.program = again->program;
  line.same = again->same_content;
  line.result = again->same_bytes     ? "identical"
                : again->same_content ? "identical pages, compressed otherwise"
                                      : "DIFFERS";
  if (line.same && !again->signed_by.empty())
    line.why = "all but the electronic signature, which cannot be made again without the key; "
               "verify checks it";
  if (!line.same)
    line.why = again->program == "ohmleaf " + std::string(program_version())
                   ? "the same version of the program issued it: the archived file, or a library, "
                     "is not what it was"
                   : "it was issued by " + again->program + ", and this is " +
                         std::string(program_version()) +
                         ": today's limits or layout may differ. The filed certificate stands";
  return line;
}

std::vector<archive::Record> wanted(const archive::Archive& store,
                                    const std::optional<std::string>& number, Diagnostics& out) {
  std::vector<archive::Record> all;
  std::vector<std::string> numbers;
  if (number) numbers.push_back(*number);
  if (!number)
    for (const archive::Record& r : store.find({}, out)) numbers.push_back(r.number);
  std::sort(numbers.begin(), numbers.end());
  for (const std::string& n : numbers)
    for (archive::Record& r : store.history(n, out))
      if (!r.withdrawn && !r.expired && !r.timestamped) all.push_back(std::move(r));  // none of them files new pages
  return all;
}

Json lines_json(const std::vector<Line>& lines) {
  Json list = Json::array();
  for (const Line& l : lines) {
    Json one = Json::object();
    one.set("number", l.number).set("revision", l.revision).set("program", l.program);
    one.set("identical", l.same).set("result", l.result).set("why", l.why);
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("rebuilt", std::move(list));
  return j;
}

}  // namespace

int report_rebuild(Environment& e, const Common& common, const archive::Archive& store,
                   const std::optional<std::string>& number) {
  Sources sources;
  Diagnostics out;
  std::vector<Line> lines;
  for (const archive::Record& r : wanted(store, number, out))
    lines.push_back(made_again(e, store, r));
  if (const int code = complain(e, out, sources, common); code != kFine) return code;
  std::string text;
  std::size_t same = 0;
  for (const Line& l : lines) {
    if (l.same) ++same;
    text += visible(l.number) + (l.revision > 1 ? " revision " + std::to_string(l.revision) : "") +
            "  " + l.result + "\n";
    if (!l.why.empty()) text += wrapped(visible(l.why), "  ", "  ", text_width(e));
  }
  text += std::to_string(same) + " of " + std::to_string(lines.size()) +
          " made again from their own data come out the same\n";
  const int code = same == lines.size() ? kFine : kFindings;
  return say(e, common.json ? lines_json(lines).dump() + "\n" : text, code);
}

}  // namespace ohmleaf::cli
