#include <algorithm>

#include "limits/conductor.h"
#include "limits/protection.h"
#include "limits/sources.h"
#include "limits/zs_tables.h"

// Maximum Zs of overcurrent devices. Circuit-breakers and RCBOs by the formula, whose rounded
// figure is the printed one; fuses by table only. A reading is compared with the printed figure.

namespace ohmleaf::limits {
namespace {

using Told = std::string*;

constexpr Decimal kU0 = d("230");
constexpr Decimal kCmin = d("0.95");

bool has_cmin(Edition edition) {
  return edition != Edition::y2008;
}

std::optional<Limit<Ohms>> none(Told told, std::string why) {
  if (told) *told = std::move(why);
  return std::nullopt;
}

std::string letter(Curve curve) {
  return curve == Curve::b ? "B" : curve == Curve::c ? "C" : "D";
}

std::string ohms(const Decimal& value) {
  return value.str() + " Ω";
}

/// The times at which a breaker's instantaneous limit is given.
bool known_time(const Decimal& t) {
  for (const char* known : {"0.1", "0.2", "0.4", "1", "5"})
    if (Decimal::parse(known) == t) return true;
  return false;
}
/// The tables are printed for 0.4 and 5 s; the other times rest on memory.
bool tabulated_time(const Decimal& t) {
  return t == d("0.4") || t == d("5");
}

/// Multiple of In that surely trips a breaker in time. A type D of the 18th edition needs only
/// 10 × In to disconnect within 5 s; earlier tables have one column for both times.
Decimal multiple_of(Curve curve, const Decimal& time, Edition edition) {
  if (curve == Curve::b) return d("5");
  if (curve == Curve::c) return d("10");
  const bool eighteenth = edition != Edition::y2008 && edition != Edition::y2015;
  return eighteenth && time == d("5") ? d("10") : d("20");
}

std::string numerator(Edition edition) {
  return has_cmin(edition) ? "230 V × 0.95" : "230 V";
}
Decimal numerator_volts(Edition edition) {
  return has_cmin(edition) ? kU0 * kCmin : kU0;
}

Limit<Ohms> formula_limit(const Device& device, const Decimal& n, Edition edition) {
  Limit<Ohms> out;
  out.edition = edition;
  const Decimal volts = numerator_volts(edition), ia = n * device.rating.decimal();
  out.exact = exact4(volts, ia);
  out.derivation = numerator(edition) + " ÷ (" + n.short_str() + " × " +
                   device.rating.decimal().short_str() + " A) = " + out.exact + " Ω";
  return out;
}

std::string breaker_ratings(Curve curve) {
  std::vector<std::string> list;
  for (const BreakerRow& row : breaker_rows())
    if (!printed_17th(row, curve).is_void()) list.push_back(std::to_string(row.rating));
  return list_words(list) + " A";
}

/// A multiple that the user gives has no printed figure: rounded down, the safe way.
std::optional<Limit<Ohms>> by_multiplier(const Device& device, Edition edition, bool tabulated,
                                         Told told) {
  const Decimal& n = *device.multiplier;
  if (!(n > d("0"))) return none(told, "the multiple of In must be more than 0");
  if (device.rating > Amps(d("125")))
    return none(told, "circuit-breakers are known here up to 125 A");
  Limit<Ohms> out = formula_limit(device, n, edition);
  out.value =
      Ohms(Decimal::divide(numerator_volts(edition), n * device.rating.decimal(), 2, Round::down));
  out.derivation +=
      " (the multiple " + n.short_str() + " as given); rounded down to " + out.value.with_unit();
  out.source = std::string(cite::kBreakerFormula) +
               std::string(tabulated ? std::string_view() : cite::kInstantaneous);
  out.provenance = tabulated ? Provenance::computed : Provenance::memory;
  return out;
}

Origin breaker_origin(Curve curve, const Decimal& rating, Edition edition) {
  if (edition == Edition::y2008) return {Provenance::published, cite::kBreaker17th};
  const bool eighteenth = edition != Edition::y2015;
  if (eighteenth && curve == Curve::b && rating == d("10"))
    return {Provenance::published, cite::kBreakerB10};
  if (eighteenth && curve == Curve::b && rating == d("32"))
    return {Provenance::published, cite::kBreakerB32};
  return {Provenance::computed, cite::kBreakerFormula};
}

std::optional<Limit<Ohms>> breaker(const Device& device, const Decimal& time, Edition edition,
                                   Told told) {
  if (!known_time(time))
    return none(told, "limits of circuit-breakers exist for 0.1, 0.2, 0.4, 1 and 5 s");
  const bool tabulated = tabulated_time(time);
  if (device.multiplier) return by_multiplier(device, edition, tabulated, told);
  if (device.curve == Curve::none)
    return none(told,
                "the type of the circuit-breaker is needed: B, C or D, or the multiple of In "
                "at which it operates instantaneously (\"7 × In\")");
  const BreakerRow* row = breaker_row(device.rating.decimal());
  if (!row || printed_17th(*row, device.curve).is_void())
    return none(told, "type " + letter(device.curve) + " is tabulated for " +
                          breaker_ratings(device.curve));
  const Decimal n = multiple_of(device.curve, time, edition);
  Limit<Ohms> out = formula_limit(device, n, edition);
  out.value = Ohms(edition == Edition::y2008
                       ? printed_17th(*row, device.curve)
                       : Decimal::divide(numerator_volts(edition), n * device.rating.decimal(), 2,
                                         Round::half_up));
  if (device.curve == Curve::d && n == d("10")) out.derivation += " (type D within 5 s: 10 × In)";
  out.derivation += "; printed " + out.value.with_unit();
  const Origin origin = breaker_origin(device.curve, device.rating.decimal(), edition);
  out.source = origin.source;
  out.provenance = origin.provenance;
  if (!tabulated) {
    out.source += cite::kInstantaneous;
    out.provenance = Provenance::memory;
  }
  return out;
}

/// What the fuse tables hold, for one rating or for all, as a sentence's part.
std::string fuses_that_exist(const Device& device, Edition edition) {
  std::vector<std::string> times, ratings;
  const std::string rated = device.rating.decimal().short_str();
  for (const FuseRow& row : fuse_rows(device.standard)) {
    Device other = device;
    other.rating = Amps(Decimal::integer(row.rating));
    const auto limit = max_zs(other, Seconds(row.time), edition);
    if (!limit) continue;
    if (other.rating == device.rating)
      times.push_back(row.time.str() + " s (" + limit->value.with_unit() + ")");
    const std::string amps = std::to_string(row.rating);
    if (ratings.empty() || ratings.back() != amps) ratings.push_back(amps);
  }
  const std::string kind = std::string(name(device.standard));
  if (!times.empty()) return kind + " of " + rated + " A is tabulated for " + list_words(times);
  if (ratings.empty()) return kind + " has no table in " + std::string(name(edition));
  return kind + " is tabulated for " + list_words(ratings) + " A in " + std::string(name(edition));
}

/// The 17th edition covers two printed tables (2008, 2011): the smaller figure stands.
std::optional<Limit<Ohms>> fuse_17th(const FuseRow& row) {
  Limit<Ohms> out;
  out.edition = Edition::y2008;
  const Decimal from_2011 = Decimal::divide(row.measured_2011, d("0.8"), 2, Round::down);
  const std::string first = "table of 2011: " + row.measured_2011.str() +
                            " Ω ÷ 0.8 = " + exact4(row.measured_2011, d("0.8")) + " Ω";
  if (row.printed_2008.is_void() && from_2011.is_void()) return std::nullopt;
  if (from_2011.is_void() || row.printed_2008 <= from_2011) {
    out.value = Ohms(row.printed_2008);
    out.exact = row.printed_2008.str();
    out.derivation = "table of 2008: " + ohms(row.printed_2008);
    out.source = cite::kFuse2008;
    out.provenance = Provenance::published;
    if (row.printed_2008 < from_2011) {
      out.derivation += "; " + first + "; the smaller is used";
      out.source += "; " + std::string(cite::kFuse2011);
    }
    return out;
  }
  out.value = Ohms(from_2011);
  out.exact = exact4(row.measured_2011, d("0.8"));
  out.derivation = first;
  out.source = cite::kFuse2011;
  out.provenance = Provenance::computed;
  if (!row.printed_2008.is_void()) {
    out.derivation += "; table of 2008: " + ohms(row.printed_2008) + "; the smaller is used";
    out.source += "; " + std::string(cite::kFuse2008);
  }
  return out;
}

/// BS 1361 left the tables before the minimum-voltage factor came in: its last figure × 0.95.
Limit<Ohms> bs1361_with_cmin(const FuseRow& row) {
  Limit<Ohms> out;
  const Decimal exact = row.printed_2008 * kCmin;
  out.value = Ohms(exact.rounded(2, Round::down));
  out.exact = exact4(exact);
  out.derivation = ohms(row.printed_2008) + " (table of 2008) × 0.95 = " + out.exact +
                   " Ω; rounded down to " + out.value.with_unit() +
                   "; BS 1361 is not tabulated after the 2008 edition";
  out.source = cite::kFuse2008;
  out.provenance = Provenance::computed;
  return out;
}

std::optional<Limit<Ohms>> fuse_with_cmin(const Device& device, const FuseRow& row) {
  if (device.standard == DeviceStandard::bs1361) return bs1361_with_cmin(row);
  if (row.printed_18th.is_void()) return std::nullopt;
  Limit<Ohms> out;
  out.value = Ohms(row.printed_18th);
  out.exact = row.printed_18th.str();
  out.derivation = std::string(name(device.standard)) + " " + std::to_string(row.rating) +
                   " A at " + row.time.str() + " s: printed " + ohms(row.printed_18th) +
                   ", minimum-voltage factor 0.95 included";
  if (device.standard == DeviceStandard::bs88_2 && row.rating == 100)
    out.derivation += "; the figure of 2011 × 0.95 would give 0.437 Ω: the smaller is used";
  if (device.standard == DeviceStandard::bs88_3 && row.rating == 20 && row.time == d("0.4"))
    out.derivation += "; 230 V × 0.95 ÷ 113 A = " + exact4(kU0 * kCmin, d("113")) + " Ω";
  out.source = row.origin_18th.source;
  out.provenance = row.origin_18th.provenance;
  return out;
}

std::optional<Limit<Ohms>> fuse(const Device& device, const Decimal& time, Edition edition,
                                Told told) {
  for (const FuseRow& row : fuse_rows(device.standard)) {
    if (Decimal::integer(row.rating) != device.rating.decimal() || row.time != time) continue;
    auto found = has_cmin(edition) ? fuse_with_cmin(device, row) : fuse_17th(row);
    if (found) {
      found->edition = edition;
      return found;
    }
  }
  // Asked only for the message: fuses_that_exist() comes back here without `told`.
  if (told) *told = fuses_that_exist(device, edition);
  return std::nullopt;
}

}  // namespace

Volts zs_voltage(Edition edition) {
  return Volts(numerator_volts(edition));
}

std::optional<Limit<Ohms>> max_zs(const Device& device, Seconds time, Edition edition,
                                  std::string* what_exists) {
  if (device.standard == DeviceStandard::rccb)
    return none(what_exists,
                "an RCCB does not protect against overcurrent: name the circuit's "
                "fuse or circuit-breaker too; for the RCD the limit is 50 V ÷ IΔn");
  if (!(device.rating > Amps(d("0"))))
    return none(what_exists, "the rated current of the device is needed");
  if (device.is_breaker()) return breaker(device, time.decimal(), edition, what_exists);
  return fuse(device, time.decimal(), edition, what_exists);
}

Limit<Ohms> measured_guide(const Limit<Ohms>& zs) {
  Limit<Ohms> out = zs;
  const Decimal exact = zs.value.decimal() * d("0.8");
  out.value = Ohms(exact.rounded(2, Round::down));
  out.upper.reset();
  out.exact = exact4(exact);
  out.derivation = zs.value.with_unit() + " × 0.8 = " + out.exact + " Ω; rounded down to " +
                   out.value.with_unit();
  out.source = std::string(cite::kEightyPercent) + "; " + zs.source;
  out.provenance = computed_from({zs.provenance});
  return out;
}

Limit<Ohms> measured_exact(const Limit<Ohms>& zs, Ohms ze, Celsius ambient, Celsius operating) {
  Limit<Ohms> out = zs;
  out.upper.reset();
  Decimal cold = temperature_factor(ambient), hot = temperature_factor(operating);
  // A cable tested hotter than it will run gains nothing.
  if (cold > hot) cold = hot;
  // Ze does not warm up with the cable. Where it alone exceeds the limit, or is absurd, the whole
  // loop counts as cable.
  const Decimal zero = d("0");
  const bool ze_usable = ze.decimal() >= zero && ze <= zs.value;
  const Decimal fixed = ze_usable ? ze.decimal() : zero;
  const Decimal cable = zs.value.decimal() - fixed;
  const Decimal exact = fixed + Decimal::divide(cable * cold, hot, 6, Round::down);
  out.value = Ohms(exact.rounded(2, Round::down));
  out.exact = exact4(exact);
  out.derivation = fixed.str() + " Ω + (" + zs.value.str() + " − " + fixed.str() + ") Ω × " +
                   cold.short_str() + " ÷ " + hot.short_str() + " = " + out.exact +
                   " Ω; rounded down to " + out.value.with_unit() + " (tested at " +
                   ambient.with_unit() + ", in service " + operating.with_unit() + ")";
  if (!ze_usable) out.derivation += "; Ze is not usable here, the whole loop is taken as cable";
  out.source = std::string(cite::kTemperature) + "; " + zs.source;
  out.provenance = computed_from({zs.provenance});
  return out;
}

}  // namespace ohmleaf::limits
