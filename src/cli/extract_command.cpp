#include <memory>

#include "app/attachments.h"
#include "base/digest.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "cli/command.h"

// `extract`: what a certificate carries of its own data, given back byte for byte.

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

struct ExtractOptions {
  Common common;
  std::string certificate;
  std::string name;
  std::string to;
};

Json list_json(const std::vector<app::Attachment>& files) {
  Json list = Json::array();
  for (const app::Attachment& a : files) {
    Json one = Json::object();
    one.set("name", a.name).set("bytes", a.bytes.size()).set("sha512", sha512_hex(a.bytes));
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("files", std::move(list));
  return j;
}

std::string list_text(const ExtractOptions& o, const std::vector<app::Attachment>& files) {
  if (files.empty()) return visible(o.certificate) + ": carries no files\n";
  std::string text;
  for (const app::Attachment& a : files)
    text += padded(a.name, 32) + std::to_string(a.bytes.size()) + " bytes\n";
  return text + "Write them all with --to FOLDER, or one to standard output by its name.\n";
}

bool nothing_in_the_way(const ExtractOptions& o, const std::vector<app::Attachment>& files,
                        Diagnostics& out) {
  for (const app::Attachment& a : files) {
    const fs::path file = fs::path(o.to) / a.name;
    std::error_code ec;
    if (fs::symlink_status(file, ec).type() == fs::file_type::not_found) continue;
    out.error("in-the-way", {}, visible(file.string()) + " is there already, and is left as it is",
              {"Give --to a folder that is new or empty."});
    return false;
  }
  return true;
}

/// Nothing is written where anything stands in the way.
int write_all(Environment& e, const ExtractOptions& o, const std::vector<app::Attachment>& files,
              Sources& sources, Diagnostics& out) {
  std::error_code ec;
  fs::create_directories(o.to, ec);
  if (ec)
    out.system_error("no-folder", "the folder " + visible(o.to) + " cannot be made: " +
                                      errno_text(ec.value()),
                     {"Give --to a folder that may be written."});
  if (!out.ok() || !nothing_in_the_way(o, files, out)) return complain(e, out, sources, o.common);
  for (const app::Attachment& a : files)
    if (!write_file(fs::path(o.to) / a.name, a.bytes, out)) return complain(e, out, sources, o.common);
  complain(e, out, sources, o.common);
  if (o.common.json) return say(e, list_json(files).dump() + "\n");
  std::string text;
  for (const app::Attachment& a : files)
    text += visible((fs::path(o.to) / a.name).string()) + ": written\n";
  return say(e, text.empty() ? list_text(o, files) : text);
}

int run_extract(Environment& e, const ExtractOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto fail = [&] {
    return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
  };
  const auto pdf = read_file(o.certificate, app::kMaxPdfBytes, out);
  const auto files = pdf ? app::attachments_of(*pdf, out) : std::nullopt;
  if (!files) return fail();
  if (!o.name.empty()) {
    const app::Attachment* one = app::find_attachment(*files, o.name);
    if (one != nullptr) {
      complain(e, out, sources, o.common);
      return say(e, one->bytes);
    }
    std::vector<std::string> names;
    for (const app::Attachment& a : *files) names.push_back(a.name);
    out.error("no-such-attachment", {},
              visible(o.certificate) + " carries no file named \"" + visible(o.name) + "\"",
              {names.empty() ? "It carries no files." : "It carries " + join(names, ", ") + "."});
    return fail();
  }
  if (!o.to.empty()) return write_all(e, o, *files, sources, out);
  complain(e, out, sources, o.common);
  return say(e, o.common.json ? list_json(*files).dump() + "\n" : list_text(o, *files));
}

}  // namespace

void add_extract(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<ExtractOptions>();
  Command* c = app.add_subcommand(
      "extract", "Give back the job, profile and forms that a certificate carries, byte for byte");
  add_examples(*c,
               "  ohmleaf extract certificate.pdf\n"
               "  ohmleaf extract certificate.pdf --to folder\n"
               "  ohmleaf extract certificate.pdf job.toml > job.toml");
  c->add_option("certificate", o->certificate, "The PDF")->required()->type_name("PDF");
  c->add_option("name", o->name, "Only this file, to standard output")->type_name("NAME");
  c->add_option("--to", o->to, "Write every file into this folder")->type_name("FOLDER");
  add_common(*c, o->common, kJson | kVolume);
  c->callback([o, &e, &exit_code] { exit_code = run_extract(e, *o); });
}

}  // namespace ohmleaf::cli
