// The place for a signature: found by what covers the whole file, and by nothing that looks like
// it.
#include <doctest/doctest.h>

#include "base/digest.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;

namespace {

constexpr std::size_t kRoom = 1500;

/// The sample with a line for the signature on its last page.
layout::Document document_with_line() {
  Maker maker;
  maker.document = sample_document();
  layout::SealLine seal;
  seal.words = "Signed electronically with the certificate of R. Hollins.";
  seal.line = maker.node(layout::Role::paragraph, 0);
  maker.text(60, 700, seal.words, seal.line);
  seal.form = maker.node(layout::Role::form, 0);
  maker.document.seal = seal;
  return maker.document;
}

Meta meta_with_room(std::size_t room = kRoom) {
  Meta meta = sample_meta();
  meta.seal = SealSpace{"R. Hollins", room};
  return meta;
}

}  // namespace

TEST_CASE("a file with a place for a signature is the same each time, and tells where it is") {
  const std::string pdf = rendered(document_with_line(), meta_with_room());
  CHECK(pdf == rendered(document_with_line(), meta_with_room()));
  const auto hole = hole_of(pdf);
  REQUIRE(hole);
  CHECK(hole->end - hole->begin == 2 * kRoom + 2);
  CHECK(hole_content(pdf, *hole) == std::string(kRoom, '\0'));
  CHECK(own_digest_holds(pdf, *hole) == true);
  CHECK_FALSE(hole_of(rendered_sample()));

  std::string filled = pdf;
  CHECK_FALSE(fill_hole(filled, *hole, std::string(kRoom + 1, 'x')));
  CHECK(filled == pdf);
  REQUIRE(fill_hole(filled, *hole, "signature"));
  CHECK(hole_of(filled) == hole);
  CHECK(hole_content(filled, *hole)->starts_with(std::string("signature\0", 10)));
  CHECK(own_digest_holds(filled, *hole) == true);  // it is over all but the signature
  filled[20] = static_cast<char>(filled[20] ^ 1);
  CHECK(own_digest_holds(filled, *hole) == false);
  std::string capitals = pdf;
  capitals[hole->begin + 5] = 'A';
  CHECK_FALSE(hole_content(capitals, *hole));
}

TEST_CASE("a range that does not cover all but one string is no place for a signature") {
  const std::string pdf = rendered(document_with_line(), meta_with_room());
  CHECK_FALSE(hole_of(pdf + "\n"));
  CHECK_FALSE(hole_of(pdf.substr(0, pdf.size() - 1)));
  CHECK_FALSE(hole_of(""));
  std::string other = pdf;
  const std::size_t at = other.find("/ByteRange [ 0 ") + 15;
  other[at] = other[at] == '1' ? '2' : '1';
  CHECK_FALSE(hole_of(other));
  // Two of them: which one a reader goes by is not for us to guess.
  const auto hole = hole_of(pdf);
  std::string twice = pdf;
  const std::string range = pdf.substr(at - 15, 50);
  twice.replace(twice.find("/Title"), range.size(), range);
  CHECK_FALSE(hole_of(twice));
  CHECK(hole.has_value());
}

TEST_CASE("texts of the job cannot pass for the place of the signature") {
  for (const char* title : {"/ByteRange [ 0 2000000001 2000000002 2000000003 ]",
                            "/ByteRange [ 0 1 2 3 ]", "/Contents <00000000>"}) {
    CAPTURE(title);
    Meta meta = meta_with_room();
    meta.title = title;
    Diagnostics out;
    const auto pdf = render(document_with_line(), meta, out);
    const bool refused = !pdf && !out.ok();
    if (pdf) {
      const auto hole = hole_of(*pdf);
      REQUIRE(hole);
      CHECK(hole->end - hole->begin == 2 * kRoom + 2);
    }
    CHECK((pdf.has_value() || refused));
  }
}

TEST_CASE("no field without a line on the page, no line without a field, and room for both") {
  CHECK(refusals(sample_document(), meta_with_room()).size() == 1);
  CHECK(refusals(document_with_line(), sample_meta()).size() == 1);
  CHECK(refusals(document_with_line(), meta_with_room(16'001)).size() == 1);
  CHECK(refusals(document_with_line(), meta_with_room(0)).size() == 1);
  const std::string pdf = rendered(document_with_line(), meta_with_room(16'000));
  CHECK(look("qpdf --check {}", pdf).find("No syntax or stream encoding errors") !=
        std::string::npos);
}
