#pragma once
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "layout/frames.h"
#include "pdf/pdf.h"

// Shared by the tests of pdf/: a sample that uses every kind of frame, and other people's tools
// to look at the result with (qpdf, poppler, mupdf). None of them is used by the program.

namespace ohmleaf::pdf::test {

/// A document made step by step: nodes as they come, frames on the last page.
class Maker {
 public:
  Maker();
  layout::NodeId node(layout::Role role, layout::NodeId parent);
  layout::NodeId figure(layout::NodeId parent, std::string alt);
  layout::NodeId header(layout::NodeId row, layout::Scope scope);
  void text(int x, int y, std::string text, layout::NodeId node,
            layout::Face face = layout::Face::regular);
  void frame(layout::Frame frame);
  void page();
  layout::Document document;
};

layout::Document sample_document();
Meta sample_meta();

/// Renders; the test fails with the messages if that does not work.
std::string rendered(const layout::Document& document, const Meta& meta);
std::string rendered_sample();
/// The PDF that the rules are held against: the sample, or the file named by the environment
/// variable OHMLEAF_PDF, so that every real certificate is held against the same rules.
const std::string& subject();
/// Whether that is the sample, of which more is known than the rules ask.
bool subject_is_sample();
/// Whether it has a signature field.
bool subject_is_signed();
/// The ids and messages of a rendering that must fail.
std::vector<std::string> refusals(const layout::Document& document, const Meta& meta);

/// A file that is removed again, in a folder of its own.
class TemporaryFile {
 public:
  explicit TemporaryFile(std::string_view bytes, std::string_view name = "test.pdf");
  ~TemporaryFile();
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  const std::string& path() const { return path_; }
  const std::string& folder() const { return folder_; }

 private:
  std::string folder_;
  std::string path_;
};

struct Output {
  std::string text;  ///< of both streams
  int status = -1;
};
Output run(const std::string& command);
/// Output of a command that must succeed, with "{}" replaced by the file.
std::string look(const std::string& command, std::string_view pdf);

/// A PDF as qpdf reads it, streams decoded.
class Pdf {
 public:
  explicit Pdf(std::string_view bytes);
  const nlohmann::json& objects() const { return objects_; }
  nlohmann::json trailer() const { return objects_.at("trailer").at("value"); }
  nlohmann::json catalog() const { return value(trailer().at("/Root")); }
  /// The object behind a reference, or the value itself; for a stream its dictionary.
  nlohmann::json value(const nlohmann::json& reference) const;
  std::string stream(const nlohmann::json& reference) const;
  std::vector<nlohmann::json> pages() const;
  /// Dictionaries with this /Type.
  std::vector<nlohmann::json> of_type(const std::string& type) const;

 private:
  nlohmann::json objects_;
};

/// `subject()`, read.
const Pdf& subject_pdf();

/// A text string of qpdf's JSON without its prefix.
std::string plain(const nlohmann::json& string);
/// What stands between two marks, from the first `before`; empty if not there.
std::string between(std::string_view text, std::string_view before, std::string_view after);
std::size_t count(std::string_view text, std::string_view part);
bool has(std::string_view text, std::string_view part);

}  // namespace ohmleaf::pdf::test
