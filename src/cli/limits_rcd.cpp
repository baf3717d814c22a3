#include "cli/limits_answer.h"
#include "limits/protection.h"
#include "limits/rcd_type.h"
#include "limits/table.h"

// `limits rcd`.

namespace ohmleaf::cli {

using namespace limits;

namespace {

const std::vector<LoadKind> kLoads{LoadKind::fixed_without_dc, LoadKind::electronic,
                                   LoadKind::frequency_controlled, LoadKind::smooth_dc};

void add_times(const LimitQuestion& q, LimitAnswer& a, const Rcd& rcd) {
  const std::string idn = rcd.idn.decimal().short_str() + " mA";
  const bool additional = rcd.idn <= Milliamps(d("30"));
  for (const char* text : {"0.5", "1", "5"}) {
    const Decimal multiple = Decimal::parse(text).value_or(d("1"));
    if (const auto limit = rcd_time(rcd, multiple, additional, q.edition()))
      a.add("operating time at " + std::string(text) + " × IΔn, " + idn, *limit);
  }
  // What the edition does not ask for, the device is still made to.
  for (const char* text : {"0.5", "5"}) {
    const Decimal multiple = Decimal::parse(text).value_or(d("1"));
    if (rcd.bs4293 || rcd_time(rcd, multiple, additional, q.edition())) continue;
    if (const auto made = rcd_product_time(rcd.delayed, multiple, q.edition()))
      a.add("operating time at " + std::string(text) + " × IΔn by the product standard, " + idn,
            *made);
  }
  if (q.edition() == Edition::y2022 || q.edition() == Edition::y2026)
    a.notes.emplace_back(
        "From A2:2022 one alternating-current test at IΔn is asked for; half and "
        "five times are not forbidden.");
}

}  // namespace

void answer_rcd(const LimitQuestion& q, LimitAnswer& a) {
  const auto idn = q.number("idn", std::nullopt, false, 30000);
  const auto delay = q.maybe_number("delay", false, 60000);
  if (!q.ok() || !idn) return;
  Rcd rcd;
  rcd.idn = Milliamps(*idn);
  rcd.bs4293 = q.flag("bs4293");
  rcd.delayed = q.flag("delayed") || delay.has_value();
  if (delay) rcd.delay = Millis(*delay);
  if (delay && !rcd.bs4293)
    return q.wrong("delay-without-bs4293", "--delay belongs to old BS 4293 devices only",
                   "For a type S device give --delayed, for an old one --bs4293 --delay 200.");
  add_times(q, a, rcd);
  a.add("maximum Zs (TN) or RA (TT), " + idn->short_str() + " mA",
        max_zs_rcd(rcd.idn, q.edition()));
  a.add("earth electrode, guidance", electrode_stability_guide(q.edition()));
  if (!q.has("load")) return;
  const auto load =
      q.choice<LoadKind>("load", "kind of load", load_from_name, kLoads, std::nullopt);
  if (!load) return;
  const RcdSuitability least = least_rcd_type(*load);
  a.say("type of RCD for a load that is " + std::string(name(*load)),
        "type " + std::string(name(least.least)) + " at least", least.reason, least.source,
        least.provenance);
}

}  // namespace ohmleaf::cli
