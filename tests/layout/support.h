#pragma once
#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "checks/finding.h"
#include "layout/form.h"
#include "layout/model.h"

namespace ohmleaf::layout::test {

/// Every character half an em wide, so that a test can count.
class FixedMetrics final : public FontMetrics {
 public:
  Pt width(Face face, Pt size, std::string_view text) const override;
  bool has_glyph(Face face, char32_t code_point) const override;
  Pt ascent(Face, Pt size) const override { return {size.milli * 95 / 100}; }
  Pt descent(Face, Pt size) const override { return {size.milli * 22 / 100}; }
  Pt cap_height(Face, Pt size) const override { return {size.milli * 72 / 100}; }
};

/// A job, its installer and what the checks might say of it. Not judged by checks/: a layout must
/// stand whatever they say.
struct Case {
  record::Job job;
  record::Installer installer;
  checks::Report report;
  IssueFacts facts;

  record::View view() const { return document_view(job, installer, report, facts).whole(); }
};

/// Small numbers out of a seed, the same on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 2654435761u + 88172645463325252u) {}
  std::uint64_t next();
  int below(int n) { return static_cast<int>(next() % static_cast<std::uint64_t>(n)); }
  bool one_in(int n) { return below(n) == 0; }

 private:
  std::uint64_t state_;
};

/// One sound circuit and one accessory, everything in order.
Case plain_case();
/// `circuits` circuits with texts of every sort: empty, long, unbroken, Welsh, Polish, Irish.
Case random_case(std::uint64_t seed, int circuits);

record::Text text(std::string words);
std::string read_form(std::string_view name);
/// Loads a form and fails the test where that reports anything.
Form form_from(std::string source, std::string_view name = "test.toml");
Document lay_out_or_fail(const Form& form, const record::View& view);

/// "file:line:column id message" of each diagnostic.
std::vector<std::string> described(const Sources& sources, const Diagnostics& found);

/// Each text of a page in drawing order.
std::vector<std::string> texts_of(const Page& page);
bool page_says(const Page& page, std::string_view words);

/// What is wrong with a document, in words: text over text, text or drawing outside the margins,
/// text too small, nodes out of order. Empty if nothing is.
std::vector<std::string> faults_of(const Document& document, const PageSetup& setup);

}  // namespace ohmleaf::layout::test
