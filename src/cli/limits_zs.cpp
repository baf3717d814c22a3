#include "base/text.h"
#include "cli/limits_answer.h"
#include "limits/disconnection.h"
#include "limits/table.h"

// `limits zs` and `limits time`: fault protection.

namespace ohmleaf::cli {
namespace {

using namespace limits;

const std::vector<Earthing> kSystems{Earthing::tn_s, Earthing::tn_c_s, Earthing::tn_c,
                                     Earthing::tt};

/// "TN" alone will do where the three of them do not differ.
std::optional<Earthing> system_from(std::string_view text) {
  if (ascii_lower(trim(text)) == "tn") return Earthing::tn_s;
  const auto found = earthing_from_name(text);
  return found == Earthing::it ? std::nullopt : found;
}

struct UseName {
  CircuitUse use;
  std::string_view name, words;
};
constexpr UseName kUses[] = {
    {CircuitUse::final_with_socket_outlets, "sockets", "final circuit with socket-outlets"},
    {CircuitUse::final_fixed_equipment, "fixed", "final circuit of fixed equipment only"},
    {CircuitUse::distribution, "distribution", "distribution circuit"}};

std::string_view name(const UseName& use) {
  return use.name;
}

std::optional<UseName> use_from(std::string_view text) {
  for (const UseName& u : kUses)
    if (ascii_lower(trim(text)) == u.name) return u;
  return std::nullopt;
}

/// A device as it was named. `--rcd 30` completes an RCBO; where neither gives milliamperes, the
/// overcurrent part is answered alone: its limit does not depend on them.
std::optional<Device> device_of(const LimitQuestion& q, const std::optional<Decimal>& idn) {
  std::string text = q.text("device");
  if (const auto multiple = q.maybe_number("multiplier", false, 100))
    text += ", " + multiple->short_str() + "x";
  if (!q.ok()) return std::nullopt;
  DeviceFault fault, ignored;
  if (auto found = parse_device(text, fault)) {
    if (q.has("multiplier") && found->curve != Curve::none) {
      q.wrong("two-multiples", "--multiplier and the type of the device both give a multiple of In",
              "Write --device \"MCB 32\" with --multiplier, or the type alone: --device B32.");
      return std::nullopt;
    }
    if (idn) found->rcd = found->rcd.value_or(Rcd{});
    if (idn) found->rcd->idn = Milliamps(*idn);
    return found;
  }
  const std::string ma = idn ? idn->str() : "30";
  if (auto found = parse_device(text + ", " + ma + " mA", ignored); found && found->is_breaker()) {
    if (!idn) found->rcd.reset();
    return found;
  }
  q.wrong("unknown-device", "--device: " + fault.message, fault.hint);
  return std::nullopt;
}

struct Wanted {
  Seconds time;
  std::string words;  ///< "within 0.4 s (final circuit with socket-outlets)"
};

std::vector<Wanted> times_of(const LimitQuestion& q, const Device& device, Earthing system) {
  std::vector<Wanted> out;
  if (q.has("time")) {
    if (const auto t = q.number("time", std::nullopt, false, 10))
      out.push_back({Seconds(*t), "within " + t->short_str() + " s"});
    return out;
  }
  std::vector<UseName> uses{kUses[0], kUses[1]};
  if (q.has("use")) {
    const auto use = q.choice<UseName>("use", "use of a circuit", use_from,
                                       {std::begin(kUses), std::end(kUses)}, std::nullopt);
    if (!use) return out;
    uses = {*use};
  }
  for (const UseName& use : uses) {
    const Seconds t =
        max_disconnection_time(system, use.use, device.rating, Volts(d("230")), q.edition()).value;
    if (!out.empty() && out.back().time == t) {
      out.back().words = "within " + t.str() + " s (final circuit)";
      continue;
    }
    out.push_back({t, "within " + t.str() + " s (" + std::string(use.words) + ")"});
  }
  return out;
}

/// What the trade does with a reading taken cold, for a limit that a cable's heat matters to.
void add_ambient(const LimitQuestion& q, LimitAnswer& a, const Limit<Ohms>& zs,
                 const std::string& words) {
  a.add("80 % guide for a reading at ambient, " + words, measured_guide(zs));
  if (!q.has("ze") && !q.has("at")) return;
  const auto ze = q.number("ze", d("0"), true, 1000);
  const auto at = q.temperature("at", 20), operating = q.temperature("operating", 70);
  if (ze && at && operating)
    a.add("exact limit for a reading at " + at->short_str() + " °C, " + words,
          measured_exact(zs, Ohms(*ze), Celsius(*at), Celsius(*operating)));
}

void add_overcurrent(const LimitQuestion& q, LimitAnswer& a, const Device& device,
                     Earthing system) {
  std::vector<std::pair<std::string, Limit<Ohms>>> found;
  for (const Wanted& wanted : times_of(q, device, system)) {
    std::string exists;
    const auto zs = max_zs(device, wanted.time, q.edition(), &exists);
    if (!zs) {
      q.wrong(
          "not-tabulated",
          "there is no maximum Zs for " + device.words() + " " + wanted.words + ": not tabulated",
          "What exists: " + exists + ".");
    } else if (!found.empty() && found.back().second.derivation == zs->derivation) {
      found.back().first += " and " + wanted.words;
    } else {
      found.emplace_back(wanted.words, *zs);
    }
  }
  for (const auto& [words, zs] : found) {
    a.add("maximum Zs, " + device.words() + ", " + words, zs);
    add_ambient(q, a, zs, words);
  }
}

void answer_tt(const LimitQuestion& q, LimitAnswer& a, const std::optional<Rcd>& rcd) {
  if (!rcd)
    return q.wrong("rcd-missing", "a TT system is protected by its RCD, and none is named",
                   "Add the rated residual current, for example --rcd 30.");
  a.add("maximum RA on TT, RCD " + rcd->idn.decimal().short_str() + " mA",
        max_zs_rcd(rcd->idn, q.edition()));
  a.add("electrode, guidance", electrode_stability_guide(q.edition()));
  a.notes.emplace_back("On TT the overcurrent device's Zs does not apply: RA × IΔn ≤ 50 V does.");
}

}  // namespace

void answer_zs(const LimitQuestion& q, LimitAnswer& a) {
  const auto idn = q.maybe_number("rcd", false, 30000);
  const auto system =
      q.choice<Earthing>("system", "earthing system", system_from, kSystems, Earthing::tn_s);
  if (!q.ok() || !system) return;
  std::optional<Device> device;
  if (q.has("device")) {
    device = device_of(q, idn);
    if (!device) return;
  } else if (!idn) {
    return q.wrong("missing-option", "no device is named (--device)",
                   "Write it like --device B32, --device \"BS 3036 30\" or --rcd 30.");
  }
  std::optional<Rcd> rcd = device ? device->rcd : std::nullopt;
  if (!rcd && idn) rcd = Rcd{}, rcd->idn = Milliamps(*idn);
  if (*system == Earthing::tt) return answer_tt(q, a, rcd);
  const bool rccb_alone = device && device->standard == DeviceStandard::rccb;
  if (device && !rccb_alone) add_overcurrent(q, a, *device, *system);
  if (!rcd) return;
  a.add("maximum Zs for the RCD, " + rcd->idn.decimal().short_str() + " mA",
        max_zs_rcd(rcd->idn, q.edition()));
  if (device && !rccb_alone)
    a.notes.emplace_back(
        "Above the overcurrent limit but within 50 V ÷ IΔn disconnection relies on the RCD: state "
        "it, look for the cause, and see that a line–neutral fault is still cleared.");
}

std::vector<std::string> zs_tables_of(const std::string& device) {
  DeviceFault ignored;
  for (const char* rating : {"", "10", " 10 A", ", 30 mA", "10, 30 mA"}) {
    const auto found = parse_device(device + rating, ignored);
    if (!found) continue;
    switch (found->standard) {
      case DeviceStandard::bs88_2:
        return {"zs-bs88-2"};
      case DeviceStandard::bs88_3:
        return {"zs-bs88-3"};
      case DeviceStandard::bs1361:
        return {"zs-bs1361"};
      case DeviceStandard::bs3036:
        return {"zs-bs3036"};
      case DeviceStandard::bs1362:
        return {"zs-bs1362"};
      case DeviceStandard::rccb:
        return {"rcd-zs"};
      default:
        break;
    }
    if (found->curve == Curve::b) return {"zs-b"};
    if (found->curve == Curve::c) return {"zs-c"};
    if (found->curve == Curve::d) return {"zs-d"};
    return {"zs-b", "zs-c", "zs-d"};
  }
  return {};
}

void answer_time(const LimitQuestion& q, LimitAnswer& a) {
  const auto system =
      q.choice<Earthing>("system", "earthing system", system_from, kSystems, Earthing::tn_s);
  const auto rating = q.number("rating", d("32"), false, 6300);
  const auto volts = q.number("volts", d("230"), false, 1000);
  if (!system || !rating || !volts) return;
  const Volts u0(*volts);
  if (q.flag("dc")) {
    a.add("maximum disconnection time, d.c., " + u0.with_unit() + " to earth",
          max_disconnection_time_dc(*system, u0, q.edition()));
    return;
  }
  std::vector<UseName> uses{std::begin(kUses), std::end(kUses)};
  if (q.has("use")) {
    const auto use = q.choice<UseName>("use", "use of a circuit", use_from, uses, std::nullopt);
    if (!use) return;
    uses = {*use};
  }
  for (const UseName& use : uses)
    a.add("maximum disconnection time, " + std::string(use.words) + ", " + rating->short_str() +
              " A, " + u0.with_unit() + " to earth",
          max_disconnection_time(*system, use.use, Amps(*rating), u0, q.edition()));
  if (*system == Earthing::tt)
    a.notes.emplace_back(
        "Where an overcurrent device disconnects and all "
        "extraneous-conductive-parts are bonded, the times of TN may be used.");
}

}  // namespace ohmleaf::cli
