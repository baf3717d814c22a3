#include "archive/issue_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/digest.h"
#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr std::int64_t kFormat = 1;
constexpr std::size_t kMaxFacts = 10'000;
constexpr std::size_t kMaxText = 64u << 10;

const char* kind_text(RecordKind kind) {
  switch (kind) {
    case RecordKind::issue:
      return "issue";
    case RecordKind::revision:
      return "revision";
    case RecordKind::withdrawal:
      return "withdrawal";
    case RecordKind::expiry:
      return "expiry";
    case RecordKind::timestamp:
      return "time-stamp";
  }
  return "issue";
}

std::optional<RecordKind> kind_of(std::string_view text) {
  for (RecordKind k : {RecordKind::issue, RecordKind::revision, RecordKind::withdrawal,
                       RecordKind::expiry, RecordKind::timestamp}) {
    if (text == kind_text(k)) return k;
  }
  return std::nullopt;
}

/// Reads members one by one and keeps the first complaint.
class Reader {
 public:
  Reader(const Json& json, std::string& why) : json_(json), why_(why) {}

  std::string text(const char* key, bool needed = true) {
    const Json* value = json_.find(key);
    if (!value && !needed) return {};
    const std::string* s = value ? value->as_string() : nullptr;
    if (!s || s->size() > kMaxText || (needed && s->empty())) {
      complain(key);
      return {};
    }
    return *s;
  }
  std::int64_t whole(const char* key, std::int64_t low, std::int64_t high) {
    const Json* value = json_.find(key);
    const std::int64_t* n = value ? value->as_int() : nullptr;
    if (!n || *n < low || *n > high) {
      complain(key);
      return low;
    }
    return *n;
  }
  void complain(std::string_view key) {
    if (why_.empty()) why_ = fmt::format("\"{}\" is absent or not as it should be", key);
  }

 private:
  const Json& json_;
  std::string& why_;
};

bool read_files(const Json& json, IssueRecord& record) {
  const Json* files = json.find("files");
  if (!files || !files->as_array() || files->as_array()->size() > kMaxFacts) return false;
  std::set<std::string> seen;
  for (const Json& item : *files->as_array()) {
    const Json* bytes = item.find("bytes");
    KeyedDigest entry{item.text("name"), 0, item.text("hmac_sha512")};
    if (!bytes || !bytes->as_int() || *bytes->as_int() < 0 || !is_content_name(entry.name) ||
        !is_hex(entry.hmac, 128) || !seen.insert(ascii_lower(entry.name)).second) {
      return false;
    }
    entry.bytes = static_cast<std::uint64_t>(*bytes->as_int());
    record.files.push_back(std::move(entry));
  }
  return true;
}

bool read_facts(const Json& json, IssueRecord& record) {
  const Json* facts = json.find("facts");
  if (!facts || !facts->as_array() || facts->as_array()->size() > kMaxFacts) return false;
  for (const Json& item : *facts->as_array()) {
    const Json::Array* pair = item.as_array();
    if (!pair || pair->size() != 2 || !(*pair)[0].as_string() || !(*pair)[1].as_string()) {
      return false;
    }
    record.facts.emplace_back(*(*pair)[0].as_string(), *(*pair)[1].as_string());
  }
  return true;
}

bool read_removed(const Json& json, IssueRecord& record) {
  const Json* removed = json.find("removed");
  if (!removed) return record.kind != RecordKind::expiry;
  if (!removed->as_array() || record.kind != RecordKind::expiry ||
      removed->as_array()->size() > kMaxFacts) {
    return false;
  }
  std::string why;
  for (const Json& item : *removed->as_array()) {
    Reader in(item, why);
    const std::optional<RecordKind> kind = kind_of(in.text("kind"));
    const std::optional<Instant> issued = Instant::parse(in.text("issued"));
    Passed p;
    p.version = static_cast<int>(in.whole("version", 1, 99'999));
    p.revision = static_cast<int>(in.whole("revision", 1, 99'999));
    p.sequence = in.whole("sequence", 1, record.sequence - 1);
    p.previous = in.text("previous");
    p.digest = in.text("digest");
    if (!why.empty() || !kind || *kind == RecordKind::expiry || !issued ||
        !is_hex(p.previous, 128) || !is_hex(p.digest, 128)) {
      return false;
    }
    p.kind = *kind;
    p.issued = *issued;
    record.removed.push_back(std::move(p));
  }
  return !record.removed.empty();
}

bool holds_first(const IssueRecord& record) {
  return record.sequence == 1 || std::any_of(record.removed.begin(), record.removed.end(),
                                             [](const Passed& p) { return p.sequence == 1; });
}

bool read_root_files(const Json& json, IssueRecord& record) {
  const Json* root = json.find("root_files");
  if (!root) return !holds_first(record);
  if (!root->as_object() || !holds_first(record)) return false;
  for (const auto& [name, digest] : *root->as_object()) {
    if (!digest.as_string() || !is_hex(*digest.as_string(), 128)) return false;
    record.root_files.emplace_back(name, *digest.as_string());
  }
  return true;
}

bool is_word_char(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

/// Names that a system gives another meaning, whatever their extension.
bool is_reserved(std::string_view part) {
  const std::string stem = ascii_lower(part.substr(0, part.find('.')));
  static const std::set<std::string> kWords{"con", "prn", "aux", "nul"};
  if (kWords.contains(stem)) return true;
  return stem.size() == 4 && (stem.starts_with("com") || stem.starts_with("lpt")) &&
         stem[3] >= '0' && stem[3] <= '9';
}

bool is_plain_name(std::string_view part) {
  return !part.empty() && part.size() <= 100 && is_word_char(part.front()) && part.back() != '.' &&
         std::all_of(part.begin(), part.end(),
                     [](char c) { return is_word_char(c) || c == '.' || c == '_' || c == '-'; }) &&
         !is_reserved(part);
}

}  // namespace

std::string encode(const IssueRecord& record) {
  Json files = Json::array();
  for (const KeyedDigest& f : record.files) {
    Json entry = Json::object();
    entry.set("name", f.name).set("bytes", static_cast<std::int64_t>(f.bytes));
    entry.set("hmac_sha512", f.hmac);
    files.push(std::move(entry));
  }
  Json facts = Json::array();
  for (const auto& [key, value] : record.facts) {
    Json pair = Json::array();
    pair.push(key).push(value);
    facts.push(std::move(pair));
  }
  Json json = Json::object();
  json.set("format", kFormat).set("kind", kind_text(record.kind));
  json.set("number", record.number).set("revision", record.revision);
  json.set("sequence", record.sequence).set("previous", record.previous);
  json.set("job_id", record.job_id).set("issued", record.issued.iso());
  json.set("program", record.program).set("person", record.person);
  if (!record.reason.empty()) json.set("reason", record.reason);
  if (!record.replaces.empty()) json.set("replaces", record.replaces);
  json.set("salt", record.salt).set("files", std::move(files)).set("facts", std::move(facts));
  if (!record.removed.empty()) {
    Json removed = Json::array();
    for (const Passed& p : record.removed) {
      Json one = Json::object();
      one.set("kind", kind_text(p.kind)).set("version", p.version).set("revision", p.revision);
      one.set("sequence", p.sequence).set("previous", p.previous).set("digest", p.digest);
      one.set("issued", p.issued.iso());
      removed.push(std::move(one));
    }
    json.set("removed", std::move(removed));
  }
  if (!record.root_files.empty()) {
    Json root = Json::object();
    for (const auto& [name, digest] : record.root_files) root.set(name, digest);
    json.set("root_files", std::move(root));
  }
  return json.dump(2) + "\n";
}

std::optional<IssueRecord> parse_record(std::string_view bytes, std::string& why) {
  why.clear();
  const std::optional<Json> json = parse_json(bytes, why);
  if (!json) return std::nullopt;
  if (!json->as_object()) {
    why = "is not a JSON object";
    return std::nullopt;
  }
  Reader in(*json, why);
  IssueRecord record;
  const Json* format = json->find("format");
  if (format && format->as_int() && *format->as_int() > kFormat) {
    why = "was written by a newer program (format " + std::to_string(*format->as_int()) + ")";
    return std::nullopt;
  }
  in.whole("format", kFormat, kFormat);
  const std::optional<RecordKind> kind = kind_of(in.text("kind"));
  record.kind = kind.value_or(RecordKind::issue);
  record.number = in.text("number");
  record.revision = static_cast<int>(in.whole("revision", 1, 99'999));
  record.sequence = in.whole("sequence", 1, INT64_MAX - 1);
  record.previous = in.text("previous");
  record.job_id = in.text("job_id");
  const std::optional<Instant> issued = Instant::parse(in.text("issued"));
  record.issued = issued.value_or(Instant{});
  record.program = in.text("program");
  record.person = in.text("person");
  record.reason = in.text("reason", false);
  record.replaces = in.text("replaces", false);
  record.salt = in.text("salt");
  if (!kind) in.complain("kind");
  if (!parse_number(record.number)) in.complain("number");
  if (!is_hex(record.previous, 128)) in.complain("previous");
  if (!is_object_id(record.job_id)) in.complain("job_id");
  if (!issued) in.complain("issued");
  if (!is_hex(record.salt, 32)) in.complain("salt");
  if (record.kind != RecordKind::issue && record.reason.empty()) in.complain("reason");
  if (!read_files(*json, record)) in.complain("files");
  if (!read_facts(*json, record)) in.complain("facts");
  if (!read_removed(*json, record)) in.complain("removed");
  if (!read_root_files(*json, record)) in.complain("root_files");
  if (!why.empty()) return std::nullopt;
  return record;
}

std::string keyed_digest(const IssueRecord& record, std::string_view bytes) {
  return hmac_sha512_hex(from_hex(record.salt).value_or(""), bytes);
}

const KeyedDigest* find_file(const IssueRecord& record, std::string_view name) {
  const auto at = std::find_if(record.files.begin(), record.files.end(),
                               [&](const KeyedDigest& f) { return f.name == name; });
  return at == record.files.end() ? nullptr : &*at;
}

std::string no_previous() {
  return std::string(128, '0');
}

bool is_prefix(std::string_view text) {
  return !text.empty() && text.size() <= 16 && is_word_char(text.front()) &&
         std::all_of(text.begin(), text.end(), [](char c) { return is_word_char(c) || c == '-'; });
}

bool is_object_id(std::string_view text) {
  return text.size() <= 64 && is_plain_name(text) &&
         std::none_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

bool is_content_name(std::string_view text) {
  const std::vector<std::string_view> parts = split(text, '/');
  return parts.size() <= 2 && std::all_of(parts.begin(), parts.end(), is_plain_name);
}

bool is_hex(std::string_view text, std::size_t length) {
  return text.size() == length && std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

std::string make_number(std::string_view prefix, std::int64_t sequence) {
  return fmt::format("{}-{:04}", prefix, sequence);
}

std::optional<NumberParts> parse_number(std::string_view number) {
  const std::size_t dash = number.rfind('-');
  if (dash == std::string_view::npos) return std::nullopt;
  const std::string_view digits = number.substr(dash + 1);
  if (digits.size() < 4 || digits.size() > 15) return std::nullopt;
  NumberParts parts{std::string(number.substr(0, dash)), 0};
  for (char c : digits) {
    if (c < '0' || c > '9') return std::nullopt;
    parts.sequence = parts.sequence * 10 + (c - '0');
  }
  if (!is_prefix(parts.prefix) || parts.sequence == 0) return std::nullopt;
  if (make_number(parts.prefix, parts.sequence) != number) return std::nullopt;
  return parts;
}

}  // namespace ohmleaf::archive
