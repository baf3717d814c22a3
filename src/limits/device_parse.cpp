#include <algorithm>
#include <array>

#include "base/text.h"
#include "limits/device.h"

namespace ohmleaf::limits {
namespace {

constexpr std::size_t kLongest = 200;
constexpr std::string_view kForms =
    "Write it like \"MCB B32, 6 kA\", \"RCBO B32, 30 mA type A, 6 kA\", \"BS 3036, 30 A\" or "
    "\"MCB B20, RCD 30 mA type AC\".";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return c >= 'a' && c <= 'z';
}

/// Runs of digits (with points) and of letters, so that "30mA" and "30 mA" read alike; hyphens
/// stand alone, other marks separate. Anything else is a run of its own, to be named in a fault.
std::vector<std::string> runs_of(std::string_view text) {
  std::string lower = ascii_lower(text);
  for (std::size_t at; (at = lower.find("×")) != std::string::npos;)
    lower.replace(at, std::string_view("×").size(), " x ");
  std::vector<std::string> out;
  for (std::size_t i = 0; i < lower.size();) {
    const char c = lower[i];
    std::size_t end = i + 1;
    if (std::string_view(" \t,;/()=\"").find(c) != std::string_view::npos) {
      i = end;
      continue;
    }
    if (is_digit(c)) {
      while (end < lower.size() && (is_digit(lower[end]) || lower[end] == '.')) ++end;
    } else if (is_letter(c)) {
      while (end < lower.size() && is_letter(lower[end])) ++end;
    } else if (c != '-') {
      while (end < lower.size() && static_cast<unsigned char>(lower[end]) >= 0x80) ++end;
    }
    out.push_back(lower.substr(i, end - i));
    i = end;
  }
  return out;
}

class Parser {
 public:
  Parser(std::string_view text, DeviceFault& fault) : runs_(runs_of(text)), fault_(fault) {
    device_.rating = Amps(Decimal::void_value());
  }

  std::optional<Device> run() {
    while (at_ < runs_.size())
      if (!step()) return std::nullopt;
    return finish();
  }

 private:
  std::string peek(std::size_t ahead = 0) const {
    return at_ + ahead < runs_.size() ? runs_[at_ + ahead] : std::string();
  }
  bool fail(std::string message, std::string hint = std::string(kForms)) {
    fault_ = {std::move(message), std::move(hint)};
    return false;
  }

  bool step() {
    const std::string word = peek();
    ++at_;
    if (is_digit(word.front())) return number(word);
    if (word == "bs" || word == "bsen" || word == "en" || word == "iec") return standard();
    if (word == "type") return type(take());
    if (word.starts_with("type") && word.size() <= 6) return type(word.substr(4));
    if (word == "b" || word == "c" || word == "d") return curve(word);
    if (word == "mcb" || word == "breaker") return made_to(DeviceStandard::mcb);
    if (word == "rcbo") return made_to(DeviceStandard::rcbo);
    if (word == "rccb") return residual(true);
    if (word == "rcd") return residual(false);
    if (word == "rewirable") return made_to(DeviceStandard::bs3036);
    if (word == "plug") return made_to(DeviceStandard::bs1362);
    if (word == "gg") return made_to(DeviceStandard::bs88_2);
    if (word == "system")
      return take() == "c" ? made_to(DeviceStandard::bs88_3) : fail("a BS 88-3 fuse is system C");
    if (word == "afdd") return arc_fault();
    if (word == "delayed" || word == "selective" || word == "s") return delayed_ = true;
    static constexpr std::array<std::string_view, 16> kFillers{
        "-",    "circuit", "fuse", "cartridge", "semi", "enclosed", "time", "in",
        "with", "and",     "pole", "sp",        "dp",   "tp",       "spn",  "tpn"};
    if (std::find(kFillers.begin(), kFillers.end(), word) != kFillers.end()) return true;
    return unknown(word);
  }

  std::string take() {
    std::string word = peek();
    if (at_ < runs_.size()) ++at_;
    return word;
  }

  bool unknown(const std::string& word) {
    const auto near = nearest(
        word, {"mcb", "rcbo", "rccb", "rcd", "fuse", "type", "afdd", "delayed", "rewirable"});
    return fail(
        "\"" + visible(word) + "\" says nothing about a device that is known here",
        near ? "Did you mean \"" + *near + "\"? " + std::string(kForms) : std::string(kForms));
  }

  bool made_to(DeviceStandard standard) {
    // "RCD 30 mA" before the breaker's own word described its residual part only.
    const bool was_rcd = standard_ == DeviceStandard::rccb && !rccb_word_;
    if (standard_ && *standard_ != standard && !was_rcd)
      return fail("two kinds of device are named: " + std::string(name(*standard_)) + " and " +
                  std::string(name(standard)));
    standard_ = standard;
    return true;
  }

  bool arc_fault() {
    device_.afdd = true;
    return true;
  }

  bool residual(bool rccb_word) {
    rccb_word_ = rccb_word_ || rccb_word;
    residual_word_ = true;
    if (!standard_) standard_ = DeviceStandard::rccb;
    return true;
  }

  bool standard() {
    while (peek() == "en" || peek() == "bs" || peek() == "iec") ++at_;
    const std::string number = take();
    const auto part = [&]() -> std::string {  // "-3" behind the number, if there
      if (peek() != "-" || peek(1).empty() || !is_digit(peek(1).front())) return {};
      ++at_;
      return take();
    };
    if (number == "88") {
      const std::string which = part();
      if (which == "3") return made_to(DeviceStandard::bs88_3);
      if (which == "2" || which == "2.2" || which == "6") return made_to(DeviceStandard::bs88_2);
      return fail("BS 88 needs its part", "Write \"BS 88-2\" (gG) or \"BS 88-3\" (system C).");
    }
    if (number == "60898") return part(), made_to(DeviceStandard::mcb);
    if (number == "61009") return part(), made_to(DeviceStandard::rcbo);
    if (number == "61008") return part(), residual(true);
    if (number == "1361") return made_to(DeviceStandard::bs1361);
    if (number == "3036") return made_to(DeviceStandard::bs3036);
    if (number == "1362") return made_to(DeviceStandard::bs1362);
    if (number == "62606") return arc_fault();
    if (number == "4293") return old_rcd_ = true, residual(false);
    return fail("BS " + visible(number) + " is no standard of a device known here",
                "Known are BS EN 60898 (MCB), BS EN 61009 (RCBO), BS EN 61008 (RCCB), BS 88-2, "
                "BS 88-3, BS 1361, BS 3036, BS 1362 and BS 4293 (old RCD).");
  }

  bool set_curve(const std::string& letter) {
    const Curve c = letter == "b" ? Curve::b : letter == "c" ? Curve::c : Curve::d;
    if (device_.curve != Curve::none && device_.curve != c)
      return fail("two types of circuit-breaker are named");
    device_.curve = c;
    return true;
  }

  bool curve(const std::string& letter) {
    if (peek().empty() || !is_digit(peek().front()))
      return fail("\"" + letter + "\" stands without a rated current",
                  "Write the type and the rated current together, for example B32.");
    if (!set_curve(letter)) return false;
    return number(take(), true);
  }

  bool type(const std::string& letter) {
    if (letter == "s") return delayed_ = true;
    // "BS 1361 type II": a size of holder, nothing that a limit depends on.
    if (standard_ == DeviceStandard::bs1361 &&
        (letter == "i" || letter == "ii" || letter == "1" || letter == "2"))
      return true;
    // Type B is a circuit-breaker's before the residual current is named, an RCD's behind it.
    const bool of_rcd = residual_word_ || idn_ || device_.curve != Curve::none;
    if (letter == "c" || letter == "d" || (letter == "b" && !of_rcd)) return set_curve(letter);
    std::optional<RcdType> found;
    for (RcdType t : {RcdType::ac, RcdType::a, RcdType::f, RcdType::b})
      if (letter == ascii_lower(name(t))) found = t;
    if (!found)
      return fail("type \"" + visible(letter) + "\" does not exist",
                  "Circuit-breakers are type B, C or D; RCDs are type AC, A, F or B, or S where "
                  "time-delayed.");
    if (rcd_type_ && *rcd_type_ != *found) return fail("two types of RCD are named");
    rcd_type_ = found;
    return true;
  }

  bool number(const std::string& text, bool rated = false) {
    const auto value = Decimal::parse(text);
    if (!value) return fail("\"" + visible(text) + "\" is not a number");
    const std::string unit = peek();
    if (unit == "ma") return ++at_, once(idn_, *value, 30000, "residual currents (mA)");
    if (unit == "ka") return ++at_, once(breaking_, *value, 200, "breaking capacities (kA)");
    if (unit == "x" || unit == "xin") {
      ++at_;
      if (peek() == "in") ++at_;
      return once(device_.multiplier, *value, 100, "multiples of In");
    }
    if (unit == "p" || unit == "pole") return ++at_, true;
    if (unit == "-" && peek(1) == "pole") return at_ += 2, true;
    if (unit == "a" || unit == "amp" || unit == "amps") {
      ++at_;
    } else if (!rated && !standard_ && device_.curve == Curve::none) {
      return fail("\"" + text + "\" stands without a unit", std::string(kForms));
    }
    // "MCB B20, RCD 63 A 30 mA": the RCD's own rated current limits nothing here.
    if (residual_word_ && standard_ && *standard_ != DeviceStandard::rccb && rating_) return true;
    return once(rating_, *value, 6300, "rated currents (A)");
  }

  bool once(std::optional<Decimal>& slot, const Decimal& value, int most, const std::string& what) {
    if (slot && *slot != value) return fail("two " + what + " are given");
    if (!(value > Decimal::integer(0)) || value > Decimal::integer(most))
      return fail("\"" + value.str() + "\" is outside what is known of " + what,
                  "Allowed is more than 0 and at most " + std::to_string(most) + ".");
    slot = value;
    return true;
  }

  std::optional<Device> finish() {
    if (!standard_ && device_.curve == Curve::none && !device_.multiplier && !idn_) {
      fail(runs_.empty() ? "no device is named" : "the kind of device is not named");
      return std::nullopt;
    }
    const bool breaker_words = device_.curve != Curve::none || device_.multiplier.has_value();
    if (breaker_words && (!standard_ || (standard_ == DeviceStandard::rccb && !rccb_word_)))
      standard_ = idn_ && !residual_word_ ? DeviceStandard::rcbo : DeviceStandard::mcb;
    device_.standard = standard_.value_or(DeviceStandard::rccb);
    if (breaker_words && !device_.is_breaker()) {
      fail("types B, C and D belong to circuit-breakers, not to a " +
           std::string(name(device_.standard)));
      return std::nullopt;
    }
    if (rating_) device_.rating = Amps(*rating_);
    if (breaking_) device_.breaking = Kiloamps(*breaking_);
    if (!rating_ && device_.standard != DeviceStandard::rccb) {
      fail("the rated current of the device is missing");
      return std::nullopt;
    }
    if (!residual_part()) return std::nullopt;
    return device_;
  }

  bool residual_part() {
    if (idn_) {
      device_.rcd = Rcd{Milliamps(*idn_), rcd_type_, delayed_, old_rcd_, {}};
      return true;
    }
    if (device_.standard == DeviceStandard::rcbo || device_.standard == DeviceStandard::rccb ||
        residual_word_ || rcd_type_ || delayed_)
      return fail("the rated residual current is missing",
                  "Add it in milliamperes, for example \"30 mA type A\".");
    return true;
  }

  std::vector<std::string> runs_;
  DeviceFault& fault_;
  std::size_t at_ = 0;
  Device device_;
  std::optional<DeviceStandard> standard_;
  std::optional<Decimal> rating_, idn_, breaking_;
  std::optional<RcdType> rcd_type_;
  bool delayed_ = false, old_rcd_ = false, residual_word_ = false, rccb_word_ = false;
};

}  // namespace

std::optional<Device> parse_device(std::string_view text, DeviceFault& fault) {
  if (text.size() > kLongest) {
    fault = {"the device's text is longer than 200 characters", std::string(kForms)};
    return std::nullopt;
  }
  return Parser(text, fault).run();
}

}  // namespace ohmleaf::limits
