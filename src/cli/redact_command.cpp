#include <memory>

#include "app/redact.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/archive_common.h"

namespace ohmleaf::cli {
namespace {

struct RedactOptions {
  Common common;
  std::string given, to;
};

int run_redact(Environment& e, const RedactOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto store = open_archive(e, o.common, out);
  const auto number = store ? number_of(*store, o.given, e, o.common, out) : std::nullopt;
  const auto pdf = number ? store->read(*number, 0, "certificate.pdf", out) : std::nullopt;
  const auto copy = pdf ? app::redacted_copy(*pdf, e.scratch_folder, sources, out) : std::nullopt;
  if (!copy || !write_file(o.to, *copy, out)) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("number", *number).set("copy", o.to);
    return say(e, j.dump() + "\n");
  }
  return report(e, o.common, "Redacted copy of " + *number + "\n  copy      " + visible(o.to) + "\n" +
                    wrapped("read it through before you give it away: a name that is misspelt in "
                            "another text is not found",
                            "  next      ", "            ", text_width(e)));
}

}  // namespace

void add_redact(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<RedactOptions>();
  Command* c = app.add_subcommand(
      "redact", "Copy a certificate for a third party, without the client's name and contact");
  c->add_option("certificate", o->given, "Its number, the job's id, or the job's folder")
      ->required()
      ->type_name("JOB|NUMBER");
  c->add_option("--to", o->to, "Where to write the copy")->required()->type_name("FILE.pdf");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c, "  ohmleaf redact HL-0001 --to for-the-agent.pdf");
  c->callback([o, &e, &exit_code] { exit_code = run_redact(e, *o); });
}

}  // namespace ohmleaf::cli
