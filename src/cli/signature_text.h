#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/signatures.h"
#include "base/json.h"
#include "cli/command.h"

// What an electronic signature, its certificate and a time-stamp prove, in plain words.

namespace ohmleaf::cli {

/// The trusted certificates of `--roots`; nothing where none are given.
std::optional<seal::Roots> read_roots(const std::string& file, Diagnostics& out);

/// "27 November 2026, 10:00:00 UTC"
std::string moment_words(Instant moment);

/// One line of words after a name: "signer    R. Hollins".
struct Said {
  std::string name, words;
};

/// Everything about one file.
std::vector<Said> signature_words(const app::SignatureReport& signature,
                                  const std::vector<app::StampReport>& stamps, bool roots_given,
                                  Instant now);

/// What is wrong with the archive's signatures and time-stamps, a sentence each.
struct SignatureProblem {
  std::string where, what, remedy;
};
std::vector<SignatureProblem> signature_problems(const app::SignatureSurvey& survey,
                                                 bool roots_given);
/// The archive's signatures in a few lines, however many there are.
std::vector<Said> survey_words(const app::SignatureSurvey& survey, bool roots_given);

Json signature_json(const app::SignatureReport& signature);
Json stamp_json(const seal::StampCheck& stamp);
/// "signatures": an array of all that were found.
Json survey_json(const app::SignatureSurvey& survey);

/// `verify FILE.pdf`: a certificate alone, with the time-stamps that came with it.
int verify_pdf(Environment& environment, const Common& common, const std::string& file,
               const std::vector<std::string>& tokens, const std::string& roots);

}  // namespace ohmleaf::cli
