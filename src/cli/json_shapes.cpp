#include "cli/json_shapes.h"

#include <array>

namespace ohmleaf::cli {
namespace {

using M = JsonMember;

constexpr std::array kErrors{
    M{"errors[].severity", "error, warning or note"},
    M{"errors[].id", "stable name of the kind of error"},
    M{"errors[].message", "what is wrong"},
    M{"errors[].place", "where: file, line, column; null where it has no place"},
    M{"errors[].hints[]", "what to do"}};

constexpr std::array kCheck{
    M{"program", "name and version"},
    M{"job.file", "path of the job file"},
    M{"job.id", "what the job is called for ever"},
    M{"job.premises", "address"},
    M{"job.client", "who ordered the work"},
    M{"job.date", "day of the inspection and tests"},
    M{"edition", "edition of the wiring rules that judged"},
    M{"verdict", "the worst of all: pass, note, borderline, doubtful, missing, fail"},
    M{"issuable", "nothing stops an issue"},
    M{"counts.*", "how many findings of each verdict"},
    M{"circuits[].board", "its board"},
    M{"circuits[].circuit", "its reference"},
    M{"circuits[].name", "what it serves"},
    M{"circuits[].verdict", "the worst of its findings"},
    M{"findings[].check", "name of the check; see check --explain"},
    M{"findings[].verdict", "pass, note, not applicable, borderline, doubtful, missing, fail"},
    M{"findings[].stage", "when in the safe order of testing"},
    M{"findings[].board", "board of its circuit; null where it is about the job"},
    M{"findings[].circuit", "reference of its circuit; null where it is about the job"},
    M{"findings[].cell", "path of what was judged, within the circuit or the job: live.zs"},
    M{"findings[].subject", "the same for people"},
    M{"findings[].message", "one sentence"},
    M{"findings[].reading", "as written, with its unit"},
    M{"findings[].limit", "as printed"},
    M{"findings[].exact", "the unrounded limit, without unit"},
    M{"findings[].difference", "between reading and limit, in words"},
    M{"findings[].derivation", "how the limit was worked out"},
    M{"findings[].decision", "how the verdict allows for the instrument's uncertainty; empty where none is declared"},
    M{"findings[].source", "where it comes from"},
    M{"findings[].provenance", "published, computed, memory, common practice or maker"},
    M{"findings[].used_permille", "share of the limit that the reading uses; null without one"},
    M{"findings[].causes[]", "likely causes, the likeliest first"},
    M{"findings[].action", "the next thing to do"},
    M{"findings[].caution", "where doing it can hurt"},
    M{"findings[].site_sheet", "where on the site sheet it is written"},
    M{"findings[].place.*", "file, line and column of the reading; null where there is none"},
    M{"findings[].see[].place.*", "another place that the message points at"},
    M{"findings[].see[].text", "what stands there"},
    M{"findings[].blocks", "it stops an issue"},
    M{"findings[].confirmed_by", "who confirmed a doubt"},
    M{"findings[].confirmed_reason", "and why"}};

constexpr std::array kDraft{
    M{"written", "path of the PDF"},
    M{"documents[]", "forms that were printed"},
    M{"verdict", "the worst of all findings"},
    M{"issuable", "nothing stops an issue"}};

constexpr std::array kIssue{
    M{"issued", "false where it was issued before"},
    M{"number", "of the certificate"},
    M{"revision", "1 for the first"},
    M{"moment", "when it was issued, in UTC"},
    M{"signed_by", "whose electronic signature it bears; empty without one"},
    M{"certificate", "path of the filed PDF"}};

#define OHMLEAF_RECORD(list)                                                              \
  M{list "number", "of the certificate"}, M{list "revision", "the newest, or the shown one"}, \
      M{list "withdrawn", "taken out of force"}, M{list "removed", "removed on purpose"},     \
      M{list "timestamped", "this version adds a time-stamp"},                                \
      M{list "job", "id of the job"}, M{list "issued", "when, in UTC"},                       \
      M{list "by", "who issued it"}, M{list "reason", "why it was corrected or withdrawn"},   \
      M{list "replaces", "what it replaces"}, M{list "folder", "where its files lie"},        \
      M{list "facts[].name", "what can be searched: premises, client, date, serial …"},       \
      M{list "facts[].value", "its text"}
constexpr std::array kFind{OHMLEAF_RECORD("certificates[].")};
constexpr std::array kShow{M{"number", "of the certificate"},
                           M{"withdrawn", "taken out of force"},
                           OHMLEAF_RECORD("versions[]."),
                           M{"versions[].version", "1 for the first"},
                           M{"versions[].state", "in force, replaced, withdrawn or removed"},
                           M{"versions[].files[].name", "a file of that version"},
                           M{"versions[].files[].bytes", "its size"}};
#undef OHMLEAF_RECORD

constexpr std::array kWithdraw{
    M{"withdrawn", "false where it was withdrawn before"}, M{"number", "of the certificate"},
    M{"revision", "the withdrawn one"}, M{"moment", "when, in UTC"},
    M{"folder", "where its files lie"}};
constexpr std::array kExpire{M{"removed", "false where it was removed before"},
                             M{"number", "of the certificate"}, M{"moment", "when, in UTC"}};

constexpr std::array kVerify{
    M{"objects", "certificates that were read"},
    M{"versions", "and their versions"},
    M{"files", "and files"},
    M{"bytes", "read"},
    M{"digests_hold", "every file is as it was filed"},
    M{"part", "the slice that was read"},
    M{"parts", "of how many"},
    M{"chain_holds", "unbroken from the first certificate to the last"},
    M{"witness_holds", "the witness agrees; null without one"},
    M{"witness", "its number; null without one"},
    M{"proof", "none, digests, chain or witness: each holds only where those before it do"},
    M{"head", "of the chain"},
    M{"problems[].number", "of the certificate"},
    M{"problems[].file", "what is damaged or missing"},
    M{"problems[].what", "what is wrong"},
    M{"problems[].remedy", "what to do"},
    M{"signatures_hold", "null where none is signed"},
    M{"signatures[].number", "of a certificate that is signed or time-stamped"},
    M{"signatures[].revision", "of it"},
    M{"signatures[].signature.*", "verdict, what, signer, signed_at, trust"},
    M{"signatures[].time_stamps[].*", "file, holds, why, moment, service, trust"},
    M{"removed[].number", "removed on purpose"},
    M{"removed[].when", "when, in UTC"},
    M{"removed[].by", "by whom"},
    M{"removed[].reason", "and why"}};
constexpr std::array kRebuild{
    M{"rebuilt[].number", "of the certificate"},   M{"rebuilt[].revision", "of it"},
    M{"rebuilt[].program", "that issued it"},      M{"rebuilt[].identical", "byte for byte"},
    M{"rebuilt[].result", "in a word"},            M{"rebuilt[].why", "where it is not the same"}};

constexpr std::array kDue{M{"due[].kind", "inspection, calibration or retention"},
                          M{"due[].date", "the day"},
                          M{"due[].overdue", "before today"},
                          M{"due[].number", "of the certificate, where it is one"},
                          M{"due[].what", "in words"},
                          M{"due[].premises", "address, where there is one"}};
constexpr std::array kExport{M{"to", "the package"}, M{"readings", "the CSV file"},
                             M{"certificates[]", "numbers that are in it"}};
constexpr std::array kImport{M{"added", "certificates that are new here"},
                             M{"renewed", "those with new versions"},
                             M{"already", "those that were here"}};
constexpr std::array kRedact{M{"number", "of the certificate"}, M{"copy", "path of the copy"}};
constexpr std::array kExtract{M{"files[].name", "as embedded"}, M{"files[].bytes", "its size"},
                              M{"files[].sha512", "its digest"}};

#define OHMLEAF_FORM(list)                                                        \
  M{list "name", "as it is chosen"}, M{list "title", "as it is printed"},         \
      M{list "language", "of its own words"}, M{list "file", "its path"},         \
      M{list "own", "beside the installer's profile"}, M{list "loads", "without an error"}
constexpr std::array kForms{OHMLEAF_FORM("documents[]."), OHMLEAF_FORM("themes[]."),
                            OHMLEAF_FORM("languages[].")};
#undef OHMLEAF_FORM
constexpr std::array kFormsCheck{M{"file", "what was checked"}, M{"kind", "what it is"},
                                 M{"errors[]", "none"},
                                 M{"untranslated[]", "of a words file: what it leaves in English"}};

#define OHMLEAF_ROW(list)                                                               \
  M{list "table", "its table"}, M{list "item", "what the row is for"},                  \
      M{list "value", "as printed"}, M{list "unit", "its unit"}, M{list "note", "of it"}, \
      M{list "source", "where it was read"},                                            \
      M{list "provenance", "published, computed, memory, common practice or maker"}
constexpr std::array kLimits{
    M{"edition", "of the wiring rules"},
    M{"results[].quantity", "what it is the limit of"},
    M{"results[].sense", "at most, at least, between; empty for what is no limit"},
    M{"results[].value", "as printed; the lower one of two"},
    M{"results[].upper", "the upper one of two; only there where it is"},
    M{"results[].printed", "with its sign and unit"},
    M{"results[].exact", "the unrounded figure"},
    M{"results[].unit", "its unit"},
    M{"results[].derivation", "how it was worked out"},
    M{"results[].source", "where it comes from"},
    M{"results[].edition", "of the wiring rules"},
    M{"results[].provenance", "published, computed, memory, common practice or maker"},
    M{"notes[]", "what holds for all of them"}};
constexpr std::array kTable{M{"edition", "of the wiring rules"}, M{"tables[].name", "of the table"},
                            M{"tables[].title", "in words"}, OHMLEAF_ROW("tables[].rows[].")};
constexpr std::array kTables{M{"tables[].name", "of the table"}, M{"tables[].title", "in words"}};
constexpr std::array kProvenance{
    M{"edition", "of the wiring rules"},       M{"rows", "in all tables"},
    M{"shares[].provenance", "how it is known"}, M{"shares[].rows", "how many rows"},
    M{"shares[].permille", "of all"},          OHMLEAF_ROW("memory[].")};
#undef OHMLEAF_ROW

constexpr std::array kKeys{M{"key", "path of the key"},
                           M{"certificate", "path of its certificate"},
                           M{"name", "whose it is"},
                           M{"organisation", "of which firm"},
                           M{"from", "first moment that it is valid, in UTC"},
                           M{"until", "and the last"},
                           M{"sha256", "fingerprint of the certificate"}};
constexpr std::array kStampRequest{M{"number", "of the certificate"},
                                   M{"request", "path of what the service wants"}};
constexpr std::array kStamp{M{"filed", "false where it was filed before"},
                            M{"number", "of the certificate"},
                            M{"folder", "where its files lie"},
                            M{"time_stamp.*", "holds, why, moment, service, trust"}};

constexpr std::array kTake{M{"job", "path of the job file"},
                           M{"written", "the job was changed"},
                           M{"readings[].board", "of its circuit"},
                           M{"readings[].circuit", "reference of its circuit"},
                           M{"readings[].key", "where the job has it"},
                           M{"readings[].reading", "as the job writes it"},
                           M{"readings[].what", "new, the same, or replaced"},
                           M{"readings[].before", "what stood there"},
                           M{"readings[].limit", "as printed"},
                           M{"readings[].verdict", "of it; null where nothing judges it"},
                           M{"verdict", "the worst of the job with them in it"},
                           M{"issuable", "nothing stops an issue"}};

constexpr std::array kNeeds{M{"type", "of the circuit"},
                            M{"device", "as on its label"},
                            M{"earthing", "of the supply"},
                            M{"edition", "of the wiring rules"},
                            M{"readings[].stage", "when in the safe order of testing"},
                            M{"readings[].key", "where the job has it"},
                            M{"readings[].what", "in words"},
                            M{"readings[].limit", "as printed"},
                            M{"readings[].how", "to take it"},
                            M{"readings[].why", "it is needed"},
                            M{"readings[].source", "of the rule"}};

constexpr std::array kShapes{
    JsonShape{"check", "", kCheck},
    JsonShape{"sheet", "", kDraft},
    JsonShape{"notice", "", kDraft},
    JsonShape{"draft", "", kDraft},
    JsonShape{"issue", "issued, or issued before; a job that is stopped gives the report of check",
              kIssue},
    JsonShape{"revise", "as issue", kIssue},
    JsonShape{"find", "", kFind},
    JsonShape{"show", "", kShow},
    JsonShape{"withdraw", "", kWithdraw},
    JsonShape{"verify", "", kVerify},
    JsonShape{"verify", "with --rebuild", kRebuild},
    JsonShape{"due", "", kDue},
    JsonShape{"export", "", kExport},
    JsonShape{"import", "", kImport},
    JsonShape{"redact", "", kRedact},
    JsonShape{"expire", "", kExpire},
    JsonShape{"extract", "", kExtract},
    JsonShape{"forms", "", kForms},
    JsonShape{"forms", "with --check", kFormsCheck},
    JsonShape{"limits", "a question", kLimits},
    JsonShape{"limits", "with --table NAME", kTable},
    JsonShape{"limits", "with --table alone", kTables},
    JsonShape{"limits", "with --provenance", kProvenance},
    JsonShape{"keys", "", kKeys},
    JsonShape{"timestamp", "with --request", kStampRequest},
    JsonShape{"timestamp", "with a token", kStamp},
    JsonShape{"take", "", kTake},
    JsonShape{"needs", "", kNeeds},
};

}  // namespace

std::span<const JsonShape> json_shapes() {
  return kShapes;
}
std::span<const JsonMember> json_errors() {
  return kErrors;
}

}  // namespace ohmleaf::cli
