#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <memory>

#include "app/attachments.h"
#include "app/witness.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/progress.h"
#include "cli/rebuild_report.h"
#include "cli/signature_text.h"

namespace ohmleaf::cli {
namespace {

struct VerifyOptions {
  Common common;
  std::string number;
  std::string part;
  std::vector<std::string> witness;
  std::vector<std::string> timestamps;
  std::string roots;
  bool rebuild = false;
};

/// What the archive's own proof does not cover: signatures by key, and other people's clocks.
struct Signatures {
  app::SignatureSurvey survey;
  bool roots_given = false;
  std::vector<SignatureProblem> problems;

  bool any_signed() const {
    return std::any_of(survey.found.begin(), survey.found.end(),
                       [](const app::SignedCertificate& c) { return c.said; });
  }
};

/// How far the proof goes: each level holds only where those before it do.
std::string level_of(const archive::VerifyReport& r) {
  if (!r.digests_hold) return "none";
  if (!r.chain_holds) return "digests";
  if (!r.witness_holds || !*r.witness_holds) return "chain";
  return "witness";
}

Json problem_json(const archive::Problem& p) {
  Json j = Json::object();
  j.set("number", p.number)
      .set("file", p.file.string())
      .set("what", p.what)
      .set("remedy", p.remedy);
  return j;
}

Json verify_json(const archive::VerifyReport& r, const archive::VerifyOptions& o,
                 const Signatures& signatures) {
  Json j = Json::object();
  j.set("format", 1).set("objects", r.objects).set("versions", r.versions).set("files", r.files);
  j.set("bytes", static_cast<std::int64_t>(r.bytes)).set("digests_hold", r.digests_hold);
  j.set("part", o.part).set("parts", o.parts);
  j.set("chain_holds", r.chain_holds);
  j.set("witness_holds", r.witness_holds ? Json(*r.witness_holds) : Json());
  j.set("witness", o.witness ? Json(o.witness->number) : Json());
  j.set("proof", level_of(r)).set("head", r.head);
  Json problems = Json::array();
  for (const auto& p : r.problems) problems.push(problem_json(p));
  j.set("problems", std::move(problems));
  Json removed = Json::array();
  for (const auto& one : r.removed) {
    Json gone = Json::object();
    gone.set("number", one.number).set("when", one.when.iso()).set("by", one.person);
    gone.set("reason", one.reason);
    removed.push(std::move(gone));
  }
  j.set("removed", std::move(removed));
  j.set("signatures_hold", signatures.any_signed() ? Json(signatures.problems.empty()) : Json());
  j.set("signatures", survey_json(signatures.survey));
  return j;
}

std::string scope_of(const archive::VerifyOptions& o) {
  if (o.only_number) return "every file of " + visible(*o.only_number);
  if (o.parts > 1) return fmt::format("every file of part {} of {}", o.part, o.parts);
  return "every file";
}

/// "by digests, chain and witness"
std::string proof_words(const archive::VerifyReport& r, const Signatures& signatures) {
  const std::string level = level_of(r);
  const bool by_key = signatures.any_signed() && signatures.problems.empty();
  if (level == "none") return "none, until what is named above is mended";
  std::vector<std::string> by{"digests"};
  if (level != "digests") by.push_back("chain");
  if (level == "witness") by.push_back("witness");
  if (by_key) by.push_back("signature");
  if (by.size() == 1) return "by digests alone";
  const std::string last = by.back();
  by.pop_back();
  return "by " + join(by, ", ") + " and " + last;
}

std::string verify_text(const archive::VerifyReport& r, const archive::VerifyOptions& o,
                        const Signatures& signatures, int width) {
  std::string text;
  for (const auto& p : r.problems) {
    text += wrapped(visible(p.what), p.file.empty() ? "" : visible(p.file.string()) + ": ", "  ",
                    width);
    text += wrapped(visible(p.remedy), "  → ", "    ", width);
  }
  for (const SignatureProblem& p : signatures.problems) {
    text += wrapped(p.what, p.where + ": ", "  ", width);
    text += wrapped(p.remedy, "  → ", "    ", width);
  }
  text += fmt::format("{} certificate{}, {} version{}, {} files, {} KiB read\n", r.objects,
                      r.objects == 1 ? "" : "s", r.versions, r.versions == 1 ? "" : "s", r.files,
                      (r.bytes + 1023) / 1024);
  const auto line = [&](const char* name, const std::string& said) {
    text += wrapped(said, padded(name, 10), std::string(10, ' '), width);
  };
  line("digests", r.digests_hold ? scope_of(o) + " is as it was filed" : "DO NOT HOLD");
  line("chain", r.chain_holds ? "unbroken from the first certificate to the last" : "BROKEN");
  for (const auto& gone : r.removed)
    line("removed", visible(gone.number) + " on " + gone.when.date().words() +
                        ", on purpose: " + visible(gone.reason));
  if (r.witness_holds)
    line("witness",
         *r.witness_holds ? visible(o.witness->number) + " agrees with the archive" : "DISAGREES");
  else
    line("witness",
         "none given: digests and chain show accident, not intent. A certificate in a client's "
         "hands is a witness: --witness FILE.pdf, or its number and chain head");
  for (const Said& said : survey_words(signatures.survey, signatures.roots_given))
    line(said.name.c_str(), said.words);
  line("proof", proof_words(r, signatures));
  if (!r.head.empty()) line("head", r.head.substr(0, 32));
  return text;
}

/// What is wrong, and the line that says by what it is proved.
std::string problems_and_proof(const std::string& text) {
  std::string out;
  for (const std::string_view line : split(text, '\n')) {
    const bool table = line.find("  ") != std::string_view::npos || line.ends_with(" read");
    if (line.starts_with("proof") || (!line.empty() && !line.starts_with(' ') && !table))
      out += std::string(line) + "\n";
  }
  return out;
}

/// "3/12"
bool read_part(const std::string& text, archive::VerifyOptions& o, Diagnostics& out) {
  if (text.empty()) return true;
  const std::size_t slash = text.find('/');
  const auto number = [](std::string_view t, std::size_t& n) {
    const auto [end, error] = std::from_chars(t.data(), t.data() + t.size(), n);
    return error == std::errc() && end == t.data() + t.size() && n >= 1 && n <= 10'000;
  };
  const std::string_view all(text);
  if (slash != std::string::npos && number(all.substr(0, slash), o.part) &&
      number(all.substr(slash + 1), o.parts) && o.part <= o.parts)
    return true;
  out.error("verify-part", {}, "\"" + visible(text) + "\" is no part of the archive",
            {"Say --part 1/12 for the first of twelve slices, to --part 12/12 for the last."});
  return false;
}

/// FILE.pdf, or NUMBER and HEAD.
bool read_witness(const VerifyOptions& given, archive::VerifyOptions& o, Diagnostics& out) {
  if (given.witness.empty()) return true;
  if (given.witness.size() == 2) {
    o.witness = archive::Witness{given.witness[0], given.witness[1], {}, {}};
    return true;
  }
  const auto pdf = read_file(given.witness[0], app::kMaxPdfBytes, out);
  if (pdf) o.witness = app::witness_from(*pdf, out);
  return o.witness.has_value();
}

/// A file that somebody was sent, and no certificate of the archive by its number.
bool is_pdf_file(const std::string& given) {
  std::error_code ec;
  return ascii_lower(given).ends_with(".pdf") && std::filesystem::exists(given, ec);
}

int run_verify(Environment& e, const VerifyOptions& given) {
  if (is_pdf_file(given.number) && !given.rebuild)
    return verify_pdf(e, given.common, given.number, given.timestamps, given.roots);
  Sources sources;
  Diagnostics out;
  archive::VerifyOptions o;
  const auto roots = read_roots(given.roots, out);
  if (!given.timestamps.empty())
    out.error("verify-timestamp", {}, "--timestamp goes with a PDF alone",
              {"ohmleaf verify FILE.pdf --timestamp TOKEN.tsr; those that are filed in the archive "
               "are verified with it."});
  if (!out.ok() || !read_part(given.part, o, out) || !read_witness(given, o, out))
    return refuse(e, given.common, out, sources);
  const auto store = open_archive(e, given.common, out);
  if (!store) return refuse(e, given.common, out, sources);
  Diagnostics quiet;  // what is not found may be what is missing: verify itself says so
  if (!given.number.empty())
    o.only_number = number_of(*store, given.number, e, given.common, quiet).value_or(given.number);
  if (given.rebuild) return report_rebuild(e, given.common, *store, o.only_number);
  o.progress = progress_bar(e, "verify");
  const auto report = store->verify(o, out);
  if (!out.ok()) return refuse(e, given.common, out, sources);
  complain(e, out, sources, given.common);
  Signatures signatures;
  signatures.roots_given = roots.has_value();
  signatures.survey =
      app::check_signatures(*store, {o.only_number, o.part, o.parts}, roots ? &*roots : nullptr);
  signatures.problems = signature_problems(signatures.survey, signatures.roots_given);
  const bool holds = report.problems.empty() && signatures.problems.empty() && report.digests_hold && report.chain_holds &&
                     report.witness_holds.value_or(true);
  const int code = holds ? kFine : kFindings;
  if (given.common.json) return say(e, verify_json(report, o, signatures).dump() + "\n", code);
  const std::string text = verify_text(report, o, signatures, text_width(e));
  return say(e, given.common.quiet ? problems_and_proof(text) : text, code);
}

}  // namespace

void add_verify(Command& app, Environment& e, int& exit_code) {
  auto v = std::make_shared<VerifyOptions>();
  Command* c =
      app.add_subcommand("verify", "Prove that the archive, or a signed PDF alone, is unchanged");
  c->add_option("number", v->number,
                "Only this certificate (default: all); or a PDF file, whose signature is verified")
      ->type_name("JOB|NUMBER|FILE.pdf");
  c->add_option("--witness", v->witness,
                "A certificate that a client still has: the PDF, or the number and chain head "
                "printed on it")
      ->expected(1, 2)
      ->type_name("FILE.pdf | NUMBER HEAD");
  c->add_option("--part", v->part, "Read the files of one slice only: 3/12 is the third of twelve")
      ->type_name("N/OF");
  c->add_flag("--rebuild", v->rebuild,
              "Make each certificate again from its own data, and say whether it comes out the same");
  c->add_option("--roots", v->roots,
                "Certificates that you trust (PEM): signers and time-stamps must have one above them")
      ->type_name("FILE.pem");
  c->add_option("--timestamp", v->timestamps, "A time-stamp that came with the PDF file")
      ->type_name("TOKEN.tsr");
  add_common(*c, v->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c,
               "  ohmleaf verify\n  ohmleaf verify HL-0001\n  ohmleaf verify --part 3/12\n"
               "  ohmleaf verify --witness from-the-client.pdf\n  ohmleaf verify HL-0001 --rebuild\n"
               "  ohmleaf verify from-the-client.pdf --roots whom-i-trust.pem");
  c->callback([v, &e, &exit_code] { exit_code = run_verify(e, *v); });
}

}  // namespace ohmleaf::cli
