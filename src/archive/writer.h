#pragma once
#include <optional>
#include <string>
#include <vector>

#include "archive/contents.h"

namespace ohmleaf::archive {

/// One writing command: holds the lock, has recovered, knows what is there.
struct Session {
  Store store;
  Lock lock;
  Contents contents;
  std::vector<std::string> notes;
};

/// Opens, locks, recovers, looks at what is filed (or asks the index, where that was done just
/// before), and refuses an archive whose chain cannot be continued.
std::optional<Session> begin_session(const std::filesystem::path& root, const Question& question,
                                     Diagnostics& out);
/// Opens, locks and recovers, without looking at the chain: for an import, which may mend it.
std::optional<Session> begin_mending(const std::filesystem::path& root, Diagnostics& out);

/// The whole record of an object that the session knows of. False, with an error in `out`, where it
/// cannot be read any more.
bool load(const Session& session, Latest& object, Diagnostics& out);

/// Whether a withdrawal or a removal says who, why and by which program. `what` names it in
/// messages: "withdrawal".
bool check_request(const WithdrawRequest& request, std::string_view what, std::string_view reason,
                   Diagnostics& out);

/// A session and the certificate of that number, whole; nothing, with an error in `out`, where the
/// archive has none.
struct Opened {
  Session session;
  Latest object;
};
std::optional<Opened> open_number(const std::filesystem::path& root, const std::string& number,
                                  Diagnostics& out);

/// The files of a version, each as it was filed, to be filed again: a withdrawal and a time-stamp
/// are whole versions too. Nothing, with the reason in `error`, where one is not what was filed.
std::optional<std::vector<File>> copy_content(const Store& store, const Latest& latest,
                                              FsError& error);

/// A version ready to be written: its record is complete but for the digests of the files.
struct NewVersion {
  std::string id;
  int version = 1;
  IssueRecord record;
  std::vector<File> files;  ///< content without issue.json
  /// The first version of an object that takes the place of one that is there (an expiry).
  bool in_place_of_old = false;
};

enum class Filed { yes, number_taken, failed };

/// Writes, reads back and files the version in one rename. `number_taken` only where another
/// program, not held by the lock, filed that number first.
Filed file_version(Session& session, NewVersion version, FsError& error);

/// What a command answers about a version that is there.
IssueResult result_for(const Session& session, const Latest& latest, IssueState state);
/// "already issued" is an acknowledgement like any other: first makes sure that it is on the disk.
IssueResult already(const Session& session, const Latest& latest, Diagnostics& out);
/// Brings to the disk what an earlier, killed command may have filed without saying so.
bool settle(const Session& session, const Latest& latest, FsError& error);

}  // namespace ohmleaf::archive
