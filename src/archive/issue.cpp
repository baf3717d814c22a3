#include <algorithm>
#include <set>

#include "archive/writer.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr int kAttempts = 5;

bool usable_text(std::string_view text) {
  return text.size() <= (64u << 10) && !first_invalid_utf8(text);
}

bool check_request(const IssueRequest& r, bool needs_prefix, Diagnostics& out) {
  if (needs_prefix && !is_prefix(r.prefix)) {
    out.error("certificate-prefix", {},
              "the prefix of certificate numbers \"" + visible(r.prefix) + "\" cannot be used",
              {"Use 1 to 16 letters, digits and hyphens, and begin with a letter or digit."});
  }
  if (!is_object_id(r.job_id)) {
    out.error("job-id", {}, "the job's id \"" + visible(r.job_id) + "\" cannot be used",
              {"Use up to 64 small letters, digits, dots, hyphens and underscores, and begin with "
               "a letter or digit."});
  }
  bool texts = usable_text(r.program) && usable_text(r.person) && usable_text(r.reason) &&
               r.facts.size() <= 10'000;
  for (const auto& [key, value] : r.facts) texts = texts && usable_text(key) && usable_text(value);
  if (!texts) {
    out.error("archive-text", {}, "a text to be filed is not UTF-8 or longer than 64 KiB");
  }
  if (r.person.empty()) out.error("archive-person", {}, "it is not said who issues");
  if (r.program.empty()) out.error("archive-program", {}, "it is not said which program issues");
  return out.ok();
}

/// job.toml is ours to add; the rest must have names that every file system takes.
bool check_files(std::vector<File>& files, const std::string& job_bytes, Diagnostics& out) {
  const auto job =
      std::find_if(files.begin(), files.end(), [](const File& f) { return f.name == kJobFile; });
  if (job == files.end()) {
    files.push_back({std::string(kJobFile), job_bytes});
  } else if (job->bytes != job_bytes) {
    out.error("archive-job", {}, "the job to be filed is not the one that was checked");
  }
  std::set<std::string> names, folders;
  for (const File& f : files) {
    const std::string name = ascii_lower(f.name);
    const std::size_t slash = name.find('/');
    if (slash != std::string::npos) folders.insert(name.substr(0, slash));
    if (!is_content_name(f.name) || name == kRecordFile) {
      out.error("archive-file-name", {}, "no file can be filed as \"" + visible(f.name) + "\"",
                {"Use letters, digits, dots, hyphens and underscores."});
    } else if (!names.insert(name).second) {
      out.error("archive-file-name", {},
                "two files to be filed are both called \"" + visible(f.name) + "\"",
                {"Rename one; large and small letters count as the same."});
    }
    if (f.bytes.size() > kMaxContent) {
      out.error("archive-file-size", {}, "\"" + visible(f.name) + "\" is too large to be filed");
    }
  }
  for (const std::string& folder : folders) {
    if (names.contains(folder)) {
      out.error("archive-file-name", {}, "\"" + visible(folder) + "\" is both file and folder");
    }
  }
  return out.ok();
}

std::string next_number(const Series& series, const std::string& prefix,
                        std::vector<std::string>& notes) {
  const std::string number = make_number(prefix, series.highest + 1);
  if (series.filed != series.highest) {
    notes.push_back("a certificate before " + number +
                    " is missing in the archive: run ohmleaf verify");
  }
  return number;
}

bool same_job(const IssueRecord& record, const std::string& job_bytes) {
  const KeyedDigest* job = find_file(record, kJobFile);
  return job && job->bytes == job_bytes.size() && job->hmac == keyed_digest(record, job_bytes);
}

IssueRecord new_record(const IssueRequest& r, const Draw& draw, RecordKind kind,
                       std::int64_t sequence, const std::string& salt) {
  IssueRecord record;
  record.kind = kind;
  record.number = draw.number;
  record.revision = draw.revision;
  record.replaces = draw.replaces;
  record.sequence = sequence;
  record.previous = draw.chain_head;
  record.job_id = r.job_id;
  record.issued = r.now;
  record.program = r.program;
  record.person = r.person;
  record.reason = kind == RecordKind::issue ? "" : r.reason;
  record.salt = salt;
  record.facts = r.facts;
  return record;
}

/// Whether the revision in force is the one asked for; a time-stamp filed since changes nothing.
bool revised_before(const Session& session, const Latest& object, const IssueRequest& request) {
  if (!same_job(object.record, request.job_bytes)) return false;
  Latest revision = object;
  Problem ignored;
  while (revision.record.kind == RecordKind::timestamp && revision.version > 1) {
    auto before = read_version_record(session.store, object.id, revision.version - 1, ignored);
    if (!before) return false;
    revision = std::move(*before);
  }
  return revision.record.kind == RecordKind::revision && revision.record.reason == request.reason;
}

struct Step {
  Filed filed = Filed::failed;
  IssueResult result;
};

/// Draws, renders and files one version under the session's lock.
Step render_and_file(Session& session, const IssueRequest& r, const Draw& draw, RecordKind kind,
                     int version, const Render& render, Diagnostics& out) {
  Step step;
  std::optional<std::vector<File>> files = render(draw);
  if (!files) return step;
  if (!check_files(*files, r.job_bytes, out)) return step;
  const std::optional<std::string> salt = random_hex(16);
  if (!salt) {
    out.system_error("random", "the system gives no random numbers");
    return step;
  }
  const std::optional<Latest>& latest = session.contents.newest;
  const std::int64_t sequence = latest ? latest->record.sequence + 1 : 1;
  NewVersion v{ascii_lower(draw.number), version, new_record(r, draw, kind, sequence, *salt),
               std::move(*files)};
  const std::string id = v.id;
  FsError error;
  step.filed = file_version(session, std::move(v), error);
  if (step.filed == Filed::failed) {
    out.system_error("archive-write", error.what,
                     {"Run the same command again: if " + draw.number +
                      " was filed after all, it says so; it is never issued twice."});
  }
  if (step.filed != Filed::yes) return step;
  step.result.state = IssueState::issued;
  step.result.number = draw.number;
  step.result.revision = draw.revision;
  step.result.issued = draw.issued;
  step.result.folder = session.store.root / id / version_name(version) / "content";
  step.result.notes = session.notes;
  return step;
}

}  // namespace

IssueResult Archive::issue(const IssueRequest& request, const Render& render, Diagnostics& out) {
  if (!out.ok() || !check_request(request, true, out)) return {};
  for (int attempt = 0; attempt < kAttempts; ++attempt) {
    std::optional<Session> session = begin_session(root_, {request.job_id, request.prefix}, out);
    if (!session) return {};
    if (std::optional<Latest>& o = session->contents.of_job) {
      if (!load(*session, *o, out)) return {};
      if (o->record.kind == RecordKind::withdrawal) {
        out.error("withdrawn", {},
                  o->record.number +
                      ", which was issued for this job, is withdrawn: " + visible(o->record.reason),
                  {"To issue the job again: ohmleaf revise " + o->record.number +
                   " JOB --reason \"why\"."});
        return result_for(*session, *o, IssueState::refused);
      }
      if (same_job(o->record, request.job_bytes)) return already(*session, *o, out);
      return result_for(*session, *o, IssueState::changed_since);
    }
    const std::optional<Latest>& latest = session->contents.newest;
    Draw draw;
    draw.number = next_number(session->contents.series, request.prefix, session->notes);
    draw.chain_head = latest ? latest->digest : no_previous();
    draw.issued = request.now;
    Step step = render_and_file(*session, request, draw, RecordKind::issue, 1, render, out);
    if (step.filed != Filed::number_taken) return step.result;
  }
  out.system_error("archive-contended",
                   "other programs took each number that was drawn: the archive's lock does not "
                   "hold them off",
                   {"Let one computer issue at a time."});
  return {};
}

IssueResult Archive::revise(const IssueRequest& request, const std::string& number,
                            const Render& render, Diagnostics& out) {
  if (trim(request.reason).empty()) {
    out.error("revise-reason", {}, "a revision needs a reason",
              {"Say why " + visible(number) + " is issued again."});
  }
  if (!out.ok() || !check_request(request, false, out)) return {};
  std::optional<Opened> opened = open_number(root_, number, out);
  if (!opened) return {};
  auto& [session, object] = *opened;
  if (object.record.job_id != request.job_id) {
    out.error("other-job", {},
              object.record.number + " was issued for the job " + object.record.job_id +
                  ", not for " + request.job_id,
              {"Issue this job to give it a number of its own."});
    return result_for(session, object, IssueState::refused);
  }
  if (revised_before(session, object, request)) return already(session, object, out);
  Draw draw;
  draw.number = object.record.number;
  draw.revision = object.record.revision + 1;
  draw.replaces = object.record.number + " revision " + std::to_string(object.record.revision);
  draw.chain_head = session.contents.newest->digest;
  draw.issued = request.now;
  return render_and_file(session, request, draw, RecordKind::revision, object.version + 1, render,
                         out)
      .result;
}

}  // namespace ohmleaf::archive
