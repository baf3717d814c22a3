#include "app/attachments.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/signature_text.h"

namespace ohmleaf::cli {
namespace {

constexpr std::size_t kMaxToken = std::size_t{1} << 20;

std::string proof_words(const app::SignatureReport& s, const std::vector<app::StampReport>& stamps,
                        bool sound) {
  if (!sound) return "none: do not rely on this file before what is said above is cleared up";
  const bool is_signed = s.verdict == app::SignatureVerdict::holds;
  if (!is_signed && stamps.empty())
    return "none by itself. With the archive at hand: ohmleaf verify --witness FILE.pdf";
  return std::string("by ") + (is_signed ? "signature" : "") +
         (is_signed && !stamps.empty() ? " and " : "") + (stamps.empty() ? "" : "time-stamp") +
         ". What stands in the file is the signer's to answer for";
}

}  // namespace

int verify_pdf(Environment& e, const Common& common, const std::string& file,
               const std::vector<std::string>& tokens, const std::string& roots_file) {
  Sources sources;
  Diagnostics out;
  const auto pdf = read_file(file, app::kMaxPdfBytes, out);
  const auto roots = read_roots(roots_file, out);
  const seal::Roots* trusted = roots ? &*roots : nullptr;
  if (!pdf || !out.ok()) return refuse(e, common, out, sources);
  const app::SignatureReport signature = app::check_signed(*pdf, trusted);
  std::vector<app::StampReport> stamps;
  bool sound = app::is_sound(signature, trusted != nullptr);
  for (const std::string& token : tokens) {
    const auto bytes = read_file(token, kMaxToken, out);
    if (!bytes) return refuse(e, common, out, sources);
    stamps.push_back({token, seal::check_stamp(*bytes, *pdf, trusted)});
    sound = app::is_sound(stamps.back(), trusted != nullptr) && sound;
  }
  const bool proved = signature.verdict == app::SignatureVerdict::holds || !stamps.empty();
  const int code = sound && proved ? kFine : kFindings;
  if (common.json) {
    Json list = Json::array();
    for (const app::StampReport& s : stamps) list.push(stamp_json(s.check).set("file", s.file));
    Json j = Json::object();
    j.set("format", 1).set("file", file).set("holds", sound && proved);
    j.set("signature", signature_json(signature)).set("time_stamps", std::move(list));
    return say(e, j.dump() + "\n", code);
  }
  std::string text = visible(file) + "\n";
  auto lines = signature_words(signature, stamps, trusted != nullptr, e.now());
  lines.push_back({"proof", proof_words(signature, stamps, sound)});
  for (const Said& said : lines)
    text += wrapped(said.words, "  " + padded(said.name, 10), std::string(12, ' '), text_width(e));
  return say(e, text, code);
}

}  // namespace ohmleaf::cli
