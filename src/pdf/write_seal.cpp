// The signature field (ISO 32000-1, 12.8; ETSI EN 319 142-1). It is part of the one rendering, not
// added to a finished file: a dictionary with a hole for the signature and, beside it, the ranges
// of bytes that are signed, which can be known only once the file is whole. Numbers of ten digits
// keep their places; they are overwritten then.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "base/digest.h"
#include "pdf/write.h"
#include "pdf/xmp.h"

namespace ohmleaf::pdf {
namespace {

constexpr std::int64_t kBegin = 2'000'000'001, kEnd = 2'000'000'002, kRest = 2'000'000'003;
constexpr std::size_t kDigits = 10;
constexpr std::string_view kRanges = "/ByteRange [ 0 ";
constexpr std::string_view kRangesLater = "2000000001 2000000002 2000000003 ]";
/// A name that the standard leaves to everybody's own use (ISO 32000-1, annex E).
constexpr const char* kOwnDigest = "XX_ohmleaf_SHA256";
constexpr std::string_view kAfterDigest = ">\n/Contents ";
constexpr std::size_t kDigestDigits = 64;

Object* write_dictionary(Objects& objects, const Meta& meta) {
  Object* seal = objects.indirect();
  objects.put_name(seal, "Type", "Sig");
  objects.put_name(seal, "Filter", "Adobe.PPKLite");  // what ISO 32000-1 calls the usual handler
  objects.put_name(seal, "SubFilter", "ETSI.CAdES.detached");
  objects.put(seal, "Name", objects.text(meta.seal->signer));
  objects.put(seal, "M", objects.text(pdf_date(meta.created)));
  Object* ranges = objects.array();
  objects.put(seal, "ByteRange", ranges);
  for (const std::int64_t n : {std::int64_t{0}, kBegin, kEnd, kRest})
    objects.push_number(ranges, n);
  objects.put(seal, kOwnDigest, objects.bytes(std::string(kDigestDigits / 2, '\0')));
  objects.put(seal, "Contents", objects.bytes(std::string(meta.seal->room, '\0')));
  return seal;
}

/// The line is part of the page: what the field itself shows is nothing, over that line.
Object* write_appearance(Objects& objects, const Box& box) {
  Object* form = objects.stream("", false);
  objects.put_name(form, "Type", "XObject");
  objects.put_name(form, "Subtype", "Form");
  Object* bounds = objects.array();
  objects.put(form, "BBox", bounds);
  for (const std::int64_t side :
       {std::int64_t{0}, std::int64_t{0}, box.right - box.left, box.top - box.bottom})
    objects.push_thousandths(bounds, side);
  objects.put(form, "Resources", objects.dictionary());
  return form;
}

/// A whole number in place of one of ten digits.
void overwrite(std::string& pdf, std::size_t at, std::size_t value) {
  const std::string digits = std::to_string(value);
  pdf.replace(at, kDigits, digits + std::string(kDigits - digits.size(), ' '));
}

/// The numbers of a /ByteRange that begins with zero, from behind that zero on.
std::optional<std::array<std::size_t, 3>> numbers_at(std::string_view text) {
  std::array<std::size_t, 3> out{};
  for (std::size_t& n : out) {
    while (text.starts_with(' ')) text.remove_prefix(1);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    if (error != std::errc() || n > kRest) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  }
  while (text.starts_with(' ')) text.remove_prefix(1);
  if (!text.starts_with(']')) return std::nullopt;
  return out;
}

std::string own_digest(std::string_view pdf, const Hole& hole, std::size_t at) {
  std::string signed_part(pdf.substr(0, hole.begin));
  std::fill_n(signed_part.begin() + static_cast<std::ptrdiff_t>(at), kDigestDigits, '0');
  signed_part += pdf.substr(hole.end);
  return sha256_hex(signed_part);
}

/// Where the file's own digest stands.
std::optional<std::size_t> own_digest_place(std::string_view pdf, const Hole& hole) {
  const std::string before = fmt::format("/{} <", kOwnDigest);
  const std::size_t tail = kDigestDigits + kAfterDigest.size();
  if (hole.begin < tail + before.size()) return std::nullopt;
  const std::size_t at = hole.begin - tail;
  if (pdf.substr(at - before.size(), before.size()) != before ||
      pdf.substr(at + kDigestDigits, kAfterDigest.size()) != kAfterDigest)
    return std::nullopt;
  return at;
}

}  // namespace

Object* write_seal(Objects& objects, const Parts& parts, const std::vector<Object*>& pages) {
  if (!parts.meta.seal || !parts.document.seal) return nullptr;
  const auto& place = parts.seal_place;
  if (!place || !objects.ok()) return nullptr;
  Object* widget = objects.indirect();
  objects.put_name(widget, "Type", "Annot");
  objects.put_name(widget, "Subtype", "Widget");
  objects.put_name(widget, "FT", "Sig");
  objects.put(widget, "T", objects.text("signature"));
  objects.put(widget, "TU", objects.text(one_line(parts.document.seal->words)));
  objects.put(widget, "V", write_dictionary(objects, parts.meta));
  objects.put_number(widget, "F", 4);  // printed with the page (ISO 19005-3, 6.3.2)
  objects.put(widget, "P", pages[place->page]);
  Object* box = objects.array();
  objects.put(widget, "Rect", box);
  for (const std::int64_t side :
       {place->box.left, place->box.bottom, place->box.right, place->box.top})
    objects.push_thousandths(box, side);
  Object* appearance = objects.dictionary();
  objects.put(widget, "AP", appearance);
  objects.put(appearance, "N", write_appearance(objects, place->box));
  objects.put_number(widget, "StructParent", static_cast<std::int64_t>(pages.size()));
  Object* annotations = objects.array();
  objects.put(pages[place->page], "Annots", annotations);
  objects.push(annotations, widget);
  Object* form = objects.dictionary();
  objects.put(objects.catalog(), "AcroForm", form);
  Object* fields = objects.array();
  objects.put(form, "Fields", fields);
  objects.push(fields, widget);
  objects.put_number(form, "SigFlags", 3);  // there is a signature; append only
  return widget;
}

bool measure_seal(std::string& pdf, std::size_t room) {
  const std::string marker = std::string(kRanges) + std::string(kRangesLater);
  const std::size_t at = pdf.find(marker);
  if (at == std::string::npos || pdf.find(marker, at + 1) != std::string::npos) return false;
  const std::string empty = "<" + std::string(2 * room, '0') + ">";
  const std::size_t hole = pdf.find(empty, at);
  if (hole == std::string::npos || hole - at > 256) return false;
  const std::size_t end = hole + empty.size(), numbers = at + kRanges.size();
  overwrite(pdf, numbers, hole);
  overwrite(pdf, numbers + kDigits + 1, end);
  overwrite(pdf, numbers + 2 * (kDigits + 1), pdf.size() - end);
  const auto found = hole_of(pdf);
  const auto digest = found ? own_digest_place(pdf, *found) : std::nullopt;
  if (!digest || *found != Hole{hole, end}) return false;
  pdf.replace(*digest, kDigestDigits, own_digest(pdf, *found, *digest));
  return true;
}

std::optional<Hole> hole_of(std::string_view pdf) {
  std::optional<Hole> found;
  for (std::size_t at = pdf.find(kRanges); at != std::string_view::npos;
       at = pdf.find(kRanges, at + 1)) {
    const auto n = numbers_at(pdf.substr(at + kRanges.size(), 64));
    if (!n) continue;
    const auto [begin, end, rest] = *n;
    const bool fits = begin > at && begin + 2 < end && end <= pdf.size() &&
                      rest == pdf.size() - end && pdf[begin] == '<' && pdf[end - 1] == '>';
    if (!fits) continue;
    if (found) return std::nullopt;
    found = Hole{begin, end};
  }
  return found;
}

bool fill_hole(std::string& pdf, const Hole& hole, std::string_view signature) {
  const std::string digits = to_hex(signature);
  if (digits.size() + 2 > hole.end - hole.begin) return false;
  pdf.replace(hole.begin + 1, digits.size(), digits);
  return true;
}

std::optional<std::string> hole_content(std::string_view pdf, const Hole& hole) {
  const std::string_view digits = pdf.substr(hole.begin + 1, hole.end - hole.begin - 2);
  auto bytes = from_hex(digits);
  if (!bytes || to_hex(*bytes) != digits) return std::nullopt;
  return bytes;
}

std::optional<bool> own_digest_holds(std::string_view pdf, const Hole& hole) {
  const auto at = own_digest_place(pdf, hole);
  if (!at) return std::nullopt;
  return own_digest(pdf, hole, *at) == pdf.substr(*at, kDigestDigits);
}

}  // namespace ohmleaf::pdf
