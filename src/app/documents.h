#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/images.h"
#include "app/look.h"
#include "app/words.h"
#include "app/workspace.h"
#include "checks/finding.h"
#include "layout/form.h"
#include "layout/model.h"
#include "pdf/pdf.h"

namespace ohmleaf::app {

/// A form with the text it was read from, which is embedded and archived.
struct LoadedForm {
  std::string name;   ///< "minor-works"
  std::string bytes;
  std::shared_ptr<const layout::Form> form;  ///< in the language of the pages; never null
};

/// The logo and the signer's signature, where the profile names them.
struct Artwork {
  std::vector<LoadedImage> images;
  int logo = -1;       ///< index into images; -1: none
  int signature = -1;  ///< of the job's person
  std::vector<std::pair<std::string, int>> signatures;  ///< of everybody who signs
};
/// Call before any thread is started: images are decoded in a child process.
std::optional<Artwork> load_artwork(const Workspace& workspace, Diagnostics& out);

/// Everything a rendering needs besides the job itself, read once.
struct Stationery {
  std::vector<LoadedForm> forms;
  Artwork artwork;
  Look look;
  std::optional<LoadedWords> words;  ///< none where the pages are in English
};
std::optional<Stationery> load_stationery(const Workspace& workspace,
                                          const std::vector<std::string>& names, Sources& sources,
                                          Diagnostics& out);

/// Embedded in every issued certificate: {"format": 1, "number", "revision", "replaces", "issued",
/// "program", "chain_head" (32 hex digits, as printed), "job" (its id), "documents" (forms in
/// order), "images" (their paths in the profile, in the order of image_file_name), "signed" ({"by",
/// "room"}; only where it is signed electronically)}: with the files beside it, all that
/// `verify --rebuild` needs.
inline constexpr const char* kCertificateRecord = "certificate.json";

/// The documents that the job asks for, or the sensible ones for its kind.
std::vector<std::string> document_names(const record::Job& job);

/// Finds each form in the workspace's folders (the installer's own first) and reads it.
std::optional<std::vector<LoadedForm>> load_forms(const Workspace& workspace,
                                                  const std::vector<std::string>& names,
                                                  const layout::Theme& theme, Sources& sources,
                                                  Diagnostics& out);

/// One PDF of all the documents. `facts` says whether it is a draft or which certificate it is;
/// `created` goes into the file's dates. `seal`: leaves a place for an electronic signature. Same
/// input, same bytes.
std::optional<std::string> render(const Workspace& workspace, const checks::Report& report,
                                  const Stationery& stationery, layout::IssueFacts facts,
                                  Instant created, Sources& sources, Diagnostics& out,
                                  const std::optional<pdf::SealSpace>& seal = {});
/// The same; the report is gone before the PDF is made, so that both never need memory at once.
std::optional<std::string> render(const Workspace& workspace, checks::Report&& report,
                                  const Stationery& stationery, layout::IssueFacts facts,
                                  Instant created, Sources& sources, Diagnostics& out,
                                  const std::optional<pdf::SealSpace>& seal = {});

}  // namespace ohmleaf::app
