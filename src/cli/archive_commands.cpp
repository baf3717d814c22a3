#include "cli/archive_common.h"

namespace ohmleaf::cli {

void add_archive(Command& app, Environment& e, int& exit_code) {
  add_find(app, e, exit_code);
  add_show(app, e, exit_code);
  add_withdraw(app, e, exit_code);
  add_verify(app, e, exit_code);
  add_due(app, e, exit_code);
  add_export(app, e, exit_code);
  add_redact(app, e, exit_code);
  add_expire(app, e, exit_code);
}

}  // namespace ohmleaf::cli
