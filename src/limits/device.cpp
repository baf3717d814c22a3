#include "limits/device.h"

#include <array>

#include "base/text.h"

namespace ohmleaf::limits {
namespace {

std::string curve_letter(Curve curve) {
  switch (curve) {
    case Curve::b:
      return "B";
    case Curve::c:
      return "C";
    case Curve::d:
      return "D";
    case Curve::none:
      break;
  }
  return {};
}

std::string rcd_words(const Rcd& rcd) {
  std::string out = rcd.idn.decimal().short_str() + " mA";
  if (rcd.type) out += " type " + std::string(name(*rcd.type));
  if (rcd.delayed) out += " time-delayed";
  if (rcd.bs4293) out += " BS 4293";
  return out;
}

}  // namespace

std::string_view name(Earthing earthing) {
  switch (earthing) {
    case Earthing::tn_s:
      return "TN-S";
    case Earthing::tn_c_s:
      return "TN-C-S";
    case Earthing::tn_c:
      return "TN-C";
    case Earthing::tt:
      return "TT";
    case Earthing::it:
      return "IT";
  }
  return "?";
}

std::optional<Earthing> earthing_from_name(std::string_view text) {
  std::string wanted;
  for (char c : ascii_lower(trim(text)))
    if (c != '-' && c != ' ') wanted += c;
  if (wanted == "pme") return Earthing::tn_c_s;
  for (Earthing e :
       {Earthing::tn_s, Earthing::tn_c_s, Earthing::tn_c, Earthing::tt, Earthing::it}) {
    std::string known;
    for (char c : ascii_lower(name(e)))
      if (c != '-') known += c;
    if (wanted == known) return e;
  }
  return std::nullopt;
}

bool is_tn(Earthing earthing) {
  return earthing == Earthing::tn_s || earthing == Earthing::tn_c_s || earthing == Earthing::tn_c;
}

std::string_view name(DeviceStandard standard) {
  switch (standard) {
    case DeviceStandard::mcb:
      return "BS EN 60898 circuit-breaker";
    case DeviceStandard::rcbo:
      return "BS EN 61009 RCBO";
    case DeviceStandard::bs88_2:
      return "BS 88-2 fuse gG";
    case DeviceStandard::bs88_3:
      return "BS 88-3 fuse system C";
    case DeviceStandard::bs1361:
      return "BS 1361 cartridge fuse";
    case DeviceStandard::bs3036:
      return "BS 3036 rewirable fuse";
    case DeviceStandard::bs1362:
      return "BS 1362 plug fuse";
    case DeviceStandard::rccb:
      return "BS EN 61008 RCCB";
  }
  return "?";
}

std::string_view name(RcdType type) {
  switch (type) {
    case RcdType::ac:
      return "AC";
    case RcdType::a:
      return "A";
    case RcdType::f:
      return "F";
    case RcdType::b:
      return "B";
  }
  return "?";
}

std::string Device::words() const {
  std::string out;
  const std::string amps = rating.is_void() ? "" : rating.decimal().short_str();
  if (is_breaker()) {
    out = standard == DeviceStandard::rcbo ? "RCBO" : "MCB";
    if (curve != Curve::none)
      out += " " + curve_letter(curve) + amps;
    else if (!amps.empty())
      out += " " + amps + " A";
    if (multiplier) out += ", " + multiplier->short_str() + " × In";
  } else if (standard == DeviceStandard::rccb) {
    out = "RCCB";
    if (!amps.empty()) out += " " + amps + " A";
  } else {
    const std::string_view full = name(standard);
    out = std::string(full.substr(0, full.find(' ', 3)));
    if (!amps.empty()) out += ", " + amps + " A";
  }
  if (rcd)
    out +=
        (standard == DeviceStandard::rcbo || standard == DeviceStandard::rccb ? ", " : ", RCD ") +
        rcd_words(*rcd);
  if (breaking) out += ", " + breaking->decimal().short_str() + " kA";
  if (afdd && *afdd) out += ", AFDD";
  return out;
}

}  // namespace ohmleaf::limits
