#include "cli/archive_common.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::cli {
namespace {

/// The id of the job at a path, or the folder's name where the job cannot be read any more.
std::string job_id_at(const std::filesystem::path& path, const app::Places& places) {
  Sources sources;
  Diagnostics quiet;
  if (const auto w = app::load(path, places, sources, quiet)) return w->job.job_id();
  std::error_code ec;
  std::filesystem::path folder = std::filesystem::weakly_canonical(path, ec);
  if (ec || !std::filesystem::exists(folder, ec)) return {};
  if (!std::filesystem::is_directory(folder, ec)) folder = folder.parent_path();
  return ascii_lower(folder.filename().string());
}

}  // namespace

std::optional<archive::Archive> open_archive(Environment& e, const Common& c, Diagnostics& out) {
  const auto root = app::archive_root(places_of(c, e), out);
  if (!root) return std::nullopt;
  tell(e, c, "archive", *root);
  return archive::Archive::open(*root, out);
}

std::optional<std::string> number_of(const archive::Archive& store, const std::string& given,
                                     Environment& e, const Common& c, Diagnostics& out) {
  const auto records = store.find({}, out);
  const std::string low = ascii_lower(given);
  const auto with = [&](const auto& test) -> std::optional<std::string> {
    const auto at = std::find_if(records.begin(), records.end(), test);
    return at == records.end() ? std::nullopt : std::optional(at->number);
  };
  if (auto n = with([&](const auto& r) { return ascii_lower(r.number) == low; })) return n;
  if (auto n = with([&](const auto& r) { return r.job_id == low; })) return n;
  const std::string id = job_id_at(given, places_of(c, e));
  if (auto n = with([&](const auto& r) { return !id.empty() && r.job_id == id; })) return n;
  out.error(
      "unknown-number", {}, "the archive has no certificate for " + visible(given),
      {"Give its number, the job's id, or the job's folder; ohmleaf find lists what is there."});
  return std::nullopt;
}

int refuse(Environment& e, const Common& c, const Diagnostics& out, const Sources& sources) {
  return c.json ? complain_json(e, out, sources) : complain(e, out, sources, c);
}

std::string fact(const archive::Record& r, std::string_view name) {
  for (const auto& [key, value] : r.facts)
    if (key == name) return value;
  return {};
}

Json record_json(const archive::Record& r) {
  Json j = Json::object();
  j.set("number", r.number).set("revision", r.revision).set("withdrawn", r.withdrawn);
  j.set("removed", r.expired).set("timestamped", r.timestamped);
  j.set("job", r.job_id).set("issued", r.issued.iso()).set("by", r.person);
  j.set("reason", r.reason).set("replaces", r.replaces).set("folder", r.folder.string());
  Json facts = Json::array();
  for (const auto& [key, value] : r.facts) {
    Json one = Json::object();
    one.set("name", key).set("value", value);
    facts.push(std::move(one));
  }
  j.set("facts", std::move(facts));
  return j;
}

std::string record_name(const archive::Record& r) {
  std::string name = r.number;
  if (r.revision > 1) name += " revision " + std::to_string(r.revision);
  if (r.withdrawn) name += " WITHDRAWN";
  if (r.expired) name += " REMOVED";
  return name;
}

std::string record_text(const archive::Record& r, int width) {
  const auto line = [&](const char* what, const std::string& text) {
    return text.empty()
               ? text
               : wrapped(visible(text), "    " + padded(what, 10), std::string(14, ' '), width);
  };
  std::string text =
      fmt::format("{}  {}  {}\n", visible(record_name(r)), fact(r, "date"), fact(r, "kind"));
  for (const char* key : {"premises", "client", "work"}) text += line(key, fact(r, key));
  if (r.expired) return text + line("removed", r.issued.date().words() + ": " + r.reason);
  if (r.timestamped)
    text += line("stamped", r.reason);
  else if (r.withdrawn || r.revision > 1)
    text += line(r.withdrawn ? "withdrawn" : "replaces",
                 (r.withdrawn ? r.issued.date().words() : r.replaces) + ": " + r.reason);
  return text + line("file", (r.folder / "certificate.pdf").string());
}

}  // namespace ohmleaf::cli
