#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "archive/archive.h"
#include "base/json.h"
#include "cli/command.h"

// What the commands on the archive share.

namespace ohmleaf::cli {

/// The archive that `--archive` or the installer's profile names.
std::optional<archive::Archive> open_archive(Environment& environment, const Common& common,
                                             Diagnostics& out);

/// The certificate meant by what was written: its number, the job's id, or the job's file or
/// folder. None: an error.
std::optional<std::string> number_of(const archive::Archive& store, const std::string& given,
                                     Environment& environment, const Common& common,
                                     Diagnostics& out);

/// Errors as JSON or as text, with the exit code that they ask for.
int refuse(Environment& environment, const Common& common, const Diagnostics& out,
           const Sources& sources);

/// The first fact of that name, or "".
std::string fact(const archive::Record& record, std::string_view name);
Json record_json(const archive::Record& record);
/// "HL-0001 revision 2 WITHDRAWN"
std::string record_name(const archive::Record& record);
std::string record_text(const archive::Record& record, int width);

void add_find(Command& app, Environment& environment, int& exit_code);
void add_show(Command& app, Environment& environment, int& exit_code);
void add_withdraw(Command& app, Environment& environment, int& exit_code);
void add_due(Command& app, Environment& environment, int& exit_code);
void add_export(Command& app, Environment& environment, int& exit_code);
void add_redact(Command& app, Environment& environment, int& exit_code);
void add_expire(Command& app, Environment& environment, int& exit_code);
void add_timestamp(Command& app, Environment& environment, int& exit_code);
void add_verify(Command& app, Environment& environment, int& exit_code);

}  // namespace ohmleaf::cli
