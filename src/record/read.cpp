#include "record/read.h"

#include <fmt/format.h>

#include <map>
#include <tuple>

#include "base/text.h"
#include "record/classes.h"
#include "record/job_tables.h"

namespace ohmleaf::record {
namespace {

constexpr std::string_view kFormat = "1";
constexpr std::size_t kMostBytes = 16u << 20;  // ten thousand circuits, far more than a job has

/// False where the file is of a newer format: what else it says cannot be understood.
bool check_format(Reader& in, const TomlNode& root) {
  const TomlNode* format = root.find("format");
  const Span top{in.source(), 0, 0};
  if (format == nullptr) {
    in.error("no-format", top, "the file does not say which format it has",
             "Write format = 1 as its first line.");
    return true;
  }
  if (format->mended || format->text == kFormat) {
    if (!format->mended && format->kind != TomlKind::integer)
      in.error("wrong-type", format->span, "format needs a whole number",
               "Write format = 1, without quotation marks.");
    return true;
  }
  const auto number = Decimal::parse(format->text);
  if (format->kind == TomlKind::integer && number && *number > Decimal::integer(1)) {
    in.error("newer-format", format->span,
             fmt::format("this file has format {}, and this program knows format {}",
                         visible(format->text), kFormat),
             "Install a newer version of ohmleaf to read it. Nothing was changed.");
    return false;
  }
  in.error("wrong-format", format->span,
           fmt::format("\"{}\" is no format of this file", visible(format->text)),
           "Write format = 1.");
  return true;
}

Shape format_shape() {
  Shape s;
  s.name = "format";
  s.kind = View::Kind::text;
  s.type = "whole number";
  s.required = true;
  s.written = Written::whole;
  s.allowed.numbers = {1};
  s.help = "format of the file: 1";
  return s;
}

template <class R>
Shape root_shape() {
  Shape root;
  root.type = "table";
  root.written = Written::table;
  std::vector<Shape> members = shape_table<R>();
  members.insert(members.begin(), format_shape());
  root.members = std::move(members);
  return root;
}

template <class R>
View root_view(const R& record, const std::function<bool(std::string_view)>& wanted = {}) {
  View view = view_table(record, wanted);
  view.members.insert(view.members.begin(),
                      {std::string("format"), View::of_text(std::string(kFormat))});
  return view;
}

/// "3" on CU1 twice: nobody could say which of the two a reading belongs to.
void check_duplicates(const std::vector<Circuit>& circuits, Diagnostics& out) {
  std::map<std::pair<std::string, std::string>, const Circuit*> seen;
  for (const Circuit& c : circuits) {
    if (!c.ref) continue;
    const auto [first, fresh] =
        seen.try_emplace({ascii_lower(c.board.value_or("")), ascii_lower(*c.ref)}, &c);
    if (fresh) continue;
    const std::string board = c.board ? " on board " + *c.board : std::string();
    Diagnostic& d =
        out.error("duplicate-circuit", c.ref.span,
                  fmt::format("circuit \"{}\" stands twice{}", visible(*c.ref), visible(board)),
                  {"Give each circuit of a board a reference of its own."});
    d.labels.push_back({first->second->ref.span, "the first one"});
  }
}

/// Reads the root table into `record`; messages in file order; false if there were errors.
template <class R>
bool read_root(const Sources& sources, SourceId source, const Shape& (*shape)(), R& record,
               Diagnostics& found, TomlNode* tree = nullptr) {
  if (sources.get(source).text().size() > kMostBytes) {
    found.error("file-too-large", Span{source, 0, 0},
                fmt::format("the file is larger than {} MiB", kMostBytes >> 20),
                {"Such a file has a few kilobytes: is this the right one?"});
    return false;
  }
  auto root = parse_toml_mending(sources, source, found);
  if (!root) return false;
  Reader in(source, shape, found);
  if (!check_format(in, *root)) return false;
  std::erase_if(root->children, [](const TomlNode& n) { return n.key == "format"; });
  read_table(in, *root, Span{source, 0, 0}, record);
  if (tree != nullptr) *tree = std::move(*root);
  return true;
}

void hand_over(Diagnostics& found, Diagnostics& out) {
  found.sort();
  for (const Diagnostic& d : found.all()) out.add(d);
}

}  // namespace

std::optional<Job> read_job(const Sources& sources, SourceId source, std::string folder_name,
                            Diagnostics& out) {
  Job job;
  job.source = source;
  job.folder_name = std::move(folder_name);
  Diagnostics found;
  if (read_root(sources, source, job_shape, job, found)) check_duplicates(job.circuits, found);
  hand_over(found, out);
  return found.ok() ? std::optional(std::move(job)) : std::nullopt;
}

std::optional<Installer> read_installer(const Sources& sources, SourceId source, Diagnostics& out,
                                        TomlNode* tree) {
  Installer installer;
  installer.source = source;
  Diagnostics found;
  if (read_root(sources, source, installer_shape, installer, found, tree))
    settle_classes(installer, found);
  hand_over(found, out);
  return found.ok() ? std::optional(std::move(installer)) : std::nullopt;
}

View view_of(const Job& job) {
  return root_view(job);
}
View view_of(const Job& job, const std::function<bool(std::string_view)>& wanted) {
  return root_view(job, wanted);
}
View view_of(const Installer& installer) {
  return root_view(installer);
}

const Shape& job_shape() {
  static const Shape shape = root_shape<Job>();
  return shape;
}

const Shape& installer_shape() {
  static const Shape shape = root_shape<Installer>();
  return shape;
}

}  // namespace ohmleaf::record
