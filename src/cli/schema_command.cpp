#include <memory>

#include "cli/command.h"
#include "layout/form_keys.h"
#include "record/read.h"
#include "record/schema.h"

namespace ohmleaf::cli {

void add_schema(Command& app, Environment& e, int& exit_code) {
  Command* c = app.add_subcommand(
      "schema", "Print what a file may say, for editors: a JSON Schema with the help of every key");
  auto file = std::make_shared<std::string>();
  c->add_option("file", *file, "Which file")
      ->required()
      ->one_of({"job", "installer", "form", "theme"});
  add_examples(*c, "  ohmleaf schema job > job.schema.json");
  c->callback([file, &e, &exit_code] {
    Json schema;
    if (*file == "job") schema = record::json_schema(record::job_shape(), "ohmleaf: job.toml");
    if (*file == "installer")
      schema = record::json_schema(record::installer_shape(), "ohmleaf: installer.toml");
    if (*file == "form") schema = layout::form_schema();
    if (*file == "theme") schema = layout::theme_schema();
    exit_code = say(e, schema.dump() + "\n");
  });
}

}  // namespace ohmleaf::cli
