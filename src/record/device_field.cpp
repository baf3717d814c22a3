#include <fmt/format.h>

#include <array>

#include "base/text.h"
#include "record/codec.h"

// A protective device: words of the trade, or a table with the same facts. The table is put into
// words and read by the same parser, so that one set of rules judges both.

namespace ohmleaf::record {
namespace {

/// A device as a table: { standard = "RCBO", curve = "B", rating = 32, idn = 30, type = "A" }.
struct DeviceTable {
  Span span;
  Text standard, curve, type;
  Field<Amps> rating;
  Field<Milliamps> idn;
  Flag delayed, afdd;
  Field<Kiloamps> breaking;
  Field<Decimal> multiplier;
};

constexpr std::array<std::string_view, 13> kStandards{
    "MCB",     "RCBO",    "RCCB",        "BS 88-2",     "BS 88-3",     "BS 1361",    "BS 1362",
    "BS 3036", "BS 4293", "BS EN 60898", "BS EN 61009", "BS EN 61008", "BS EN 62606"};
constexpr std::array<std::string_view, 3> kCurves{"B", "C", "D"};
constexpr std::array<std::string_view, 4> kTypes{"AC", "A", "F", "B"};

}  // namespace

template <>
std::span<const Key<DeviceTable>> keys<DeviceTable>() {
  using D = DeviceTable;
  static constexpr std::array table{
      key<&D::standard>("standard", Required::yes, "what the device is made to",
                        {.words = kStandards}),
      key<&D::curve>("curve", Required::no, "type of a circuit-breaker", {.words = kCurves}),
      key<&D::rating>("rating", Required::no, "rated current In"),
      key<&D::idn>("idn", Required::no, "rated residual operating current of its RCD"),
      key<&D::type>("type", Required::no, "type of its RCD", {.words = kTypes}),
      key<&D::delayed>("delayed", Required::no, "its RCD is time-delayed (type S)"),
      key<&D::breaking>("breaking", Required::no, "rated short-circuit capacity, a number in kA"),
      key<&D::afdd>("afdd", Required::no, "it detects arc faults"),
      key<&D::multiplier>("multiplier", Required::no,
                          "instantaneous tripping as a multiple of In, where there is no curve",
                          {.least = 1, .most = 100}),
  };
  return table;
}

namespace {

std::string words_of(const DeviceTable& t) {
  std::string out = t.standard.value_or("");
  if (t.curve && t.rating)
    out += fmt::format(" {}{}", *t.curve, t.rating->str());
  else if (t.curve)
    out += " type " + *t.curve;
  else if (t.rating)
    out += fmt::format(" {} A", t.rating->str());
  if (t.multiplier) out += fmt::format(", {} x In", t.multiplier->str());
  if (t.breaking) out += fmt::format(", {} kA", t.breaking->str());
  if (t.idn) out += fmt::format(", RCD {} mA", t.idn->str());
  if (t.type) out += " type " + *t.type;
  if (t.delayed.value_or(false)) out += " delayed";
  if (t.afdd.value_or(false)) out += ", AFDD";
  return out;
}

/// The key's own demands: an RCD where one is asked for, overcurrent protection where that is.
bool fits(Reader& in, const Value& value, const limits::Device& device) {
  if (value.rule.residual && !device.rcd) {
    in.error("wrong-device", value.node.span,
             fmt::format("{} is an RCD, and this device has none", value.name),
             "Name it with its residual current, for example \"RCCB 63 A, 30 mA type A\".");
    return false;
  }
  if (value.rule.overcurrent && device.standard == limits::DeviceStandard::rccb) {
    in.error("wrong-device", value.node.span,
             fmt::format("{} must clear overcurrent, and an RCCB does not", value.name),
             "Name the circuit-breaker or fuse here, and the RCCB under rcd.");
    return false;
  }
  return true;
}

}  // namespace

std::optional<limits::Device> read_device(Reader& in, const Value& value) {
  const TomlNode& node = value.node;
  std::string text;
  if (node.is_table()) {
    DeviceTable table;
    const std::size_t before = in.error_count();
    Codec<DeviceTable>::read(in, value, table);
    if (in.error_count() != before) return std::nullopt;
    text = words_of(table);
  } else if (node.kind == TomlKind::string) {
    text = node.text;
  } else {
    in.wrong_type(value, "a device in words or as a table",
                  "Write it like \"RCBO B32, 30 mA type A, 6 kA\".");
    return std::nullopt;
  }
  limits::DeviceFault fault;
  const auto device = limits::parse_device(to_nfc(text), fault);
  if (!device) {
    in.error("wrong-device", node.is_table() ? value.node.key_span : node.span,
             fmt::format("{}: {}", value.name, fault.message), fault.hint);
    return std::nullopt;
  }
  if (!fits(in, value, *device)) return std::nullopt;
  return device;
}

View view_of_device(const limits::Device& device, Span span) {
  View v = View::of_text(device.words(), {}, span);
  const auto add = [&](const char* name, std::string text, const char* unit = "") {
    v.set(name, View::of_text(std::move(text), unit, span));
  };
  add("standard", std::string(limits::name(device.standard)));
  using limits::Curve;
  if (device.curve != Curve::none)
    add("curve", device.curve == Curve::b ? "B" : device.curve == Curve::c ? "C" : "D");
  if (!device.rating.is_void()) add("rating", device.rating.str(), "A");
  if (device.rcd) {
    add("idn", device.rcd->idn.str(), "mA");
    if (device.rcd->type) add("type", std::string(limits::name(*device.rcd->type)));
    v.set("delayed", View::of_flag(device.rcd->delayed, span));
  }
  if (device.breaking) add("breaking", device.breaking->str(), "kA");
  if (device.afdd) v.set("afdd", View::of_flag(*device.afdd, span));
  if (device.multiplier) add("multiplier", device.multiplier->str());
  return v;
}

void shape_of_device(Shape& shape) {
  shape.kind = View::Kind::text;
  shape.type = "protective device, in words or as a table";
  shape.written = Written::device;
  shape.members = table_of<shape_table<DeviceTable>>;
}

}  // namespace ohmleaf::record
