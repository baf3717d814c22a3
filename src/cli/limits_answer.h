#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/json.h"
#include "cli/style.h"
#include "limits/fact.h"
#include "limits/limit.h"

// Between the files limits_*.cpp: a question as it was asked, and its answer. Both are values; the
// functions that answer print nothing.

namespace ohmleaf::cli {

/// One result with its evidence, in words and figures.
struct LimitResult {
  std::string quantity;      ///< "maximum Zs, MCB B32 within 0.4 s"
  std::string sense;         ///< "at most", "at least", "between"; empty for what is no limit
  std::string value, upper;  ///< as printed
  std::string unit;          ///< may be empty
  std::string exact;         ///< the unrounded figure
  std::string derivation, source;
  limits::Provenance provenance = limits::Provenance::memory;

  /// "≤ 1.37 Ω"
  std::string printed() const;
};

struct LimitAnswer {
  limits::Edition edition = limits::Edition::y2026;
  std::vector<LimitResult> results;
  std::vector<std::string> notes;  ///< sentences that hold for all results

  template <class Q>
  void add(std::string quantity, const limits::Limit<Q>& limit) {
    LimitResult r = evidence(std::move(quantity), limit.exact, limit.derivation, limit.source,
                             limit.provenance);
    r.unit = std::string(Q::unit::symbol);
    if (limit.value.is_void()) {
      r.value = "not tabulated";
      r.unit.clear();
    } else {
      r.value = limit.value.str();
      r.sense = limit.sense == limits::Sense::at_most    ? "at most"
                : limit.sense == limits::Sense::at_least ? "at least"
                                                         : "between";
      if (limit.upper) r.upper = limit.upper->str();
    }
    results.push_back(std::move(r));
  }
  template <class Q>
  void add(std::string quantity, const limits::Derived<Q>& derived) {
    LimitResult r = evidence(std::move(quantity), derived.exact, derived.derivation, derived.source,
                             derived.provenance);
    r.value = derived.value.str();
    r.unit = std::string(Q::unit::symbol);
    results.push_back(std::move(r));
  }
  void add(std::string quantity, const limits::Factor& factor);
  /// A result in words ("type A", "required").
  void say(std::string quantity, std::string value, std::string derivation, std::string source,
           limits::Provenance provenance);

 private:
  static LimitResult evidence(std::string quantity, std::string exact, std::string derivation,
                              std::string source, limits::Provenance provenance);
};

/// Sources once, numbered, below what they stand behind: many figures share one.
class SourceMarks {
 public:
  /// "[1]"
  std::string mark(limits::Provenance provenance, const std::string& source);
  std::string text(int width) const;

 private:
  std::vector<std::string> list_;
};

std::string limits_text(const LimitAnswer& answer, const Style& style, int width);
Json limits_json(const LimitAnswer& answer);

/// The options of one question as they were written. Reading one reports what is wrong with it and
/// what could stand there.
class LimitQuestion {
 public:
  LimitQuestion(const std::map<std::string, std::string>& values,
                const std::map<std::string, bool>& flags, limits::Edition edition,
                Diagnostics& diagnostics)
      : values_(values), flags_(flags), edition_(edition), out_(diagnostics) {}

  limits::Edition edition() const { return edition_; }
  bool has(std::string_view option) const { return find(option) != nullptr; }
  bool flag(std::string_view option) const;
  /// The text as written, or `otherwise`.
  std::string text(std::string_view option, std::string_view otherwise = {}) const;

  /// A number above zero (or from zero where `zero_allowed`), at most `most`. `otherwise` stands
  /// where the option is absent; without it an absent option is an error.
  std::optional<Decimal> number(std::string_view option,
                                std::optional<Decimal> otherwise = std::nullopt,
                                bool zero_allowed = false, int most = 1000000) const;
  /// A number where the option is given, nothing where not. `wrong` tells an error from absence.
  std::optional<Decimal> maybe_number(std::string_view option, bool zero_allowed = false,
                                      int most = 1000000) const;
  /// A temperature, −50 to 250 °C.
  std::optional<Decimal> temperature(std::string_view option, int otherwise) const;

  void wrong(std::string_view id, std::string message, std::string hint) const;
  bool ok() const { return out_.ok(); }

  /// One of the names; `what` says what they are ("earthing system").
  template <class E, class FromName>
  std::optional<E> choice(std::string_view option, std::string_view what, FromName from_name,
                          const std::vector<E>& all, std::optional<E> otherwise) const {
    const std::string* written = find(option);
    if (written == nullptr && otherwise) return otherwise;
    if (written != nullptr)
      if (const std::optional<E> found = from_name(*written)) return found;
    std::vector<std::string> names;
    for (const E& e : all) names.emplace_back(name(e));
    not_a_choice(option, what, names);
    return std::nullopt;
  }

 private:
  const std::string* find(std::string_view option) const;
  void not_a_choice(std::string_view option, std::string_view what,
                    const std::vector<std::string>& names) const;

  const std::map<std::string, std::string>& values_;
  const std::map<std::string, bool>& flags_;
  limits::Edition edition_;
  Diagnostics& out_;
};

using LimitAnswerer = void (*)(const LimitQuestion&, LimitAnswer&);
void answer_zs(const LimitQuestion&, LimitAnswer&);
void answer_time(const LimitQuestion&, LimitAnswer&);
void answer_rcd(const LimitQuestion&, LimitAnswer&);
void answer_r1r2(const LimitQuestion&, LimitAnswer&);
void answer_ring(const LimitQuestion&, LimitAnswer&);
void answer_insulation(const LimitQuestion&, LimitAnswer&);
void answer_drop(const LimitQuestion&, LimitAnswer&);
void answer_capacity(const LimitQuestion&, LimitAnswer&);
void answer_adiabatic(const LimitQuestion&, LimitAnswer&);
void answer_k(const LimitQuestion&, LimitAnswer&);
void answer_fault(const LimitQuestion&, LimitAnswer&);
void answer_bonding(const LimitQuestion&, LimitAnswer&);
void answer_supply(const LimitQuestion&, LimitAnswer&);
void answer_circuit(const LimitQuestion&, LimitAnswer&);
void answer_protection(const LimitQuestion&, LimitAnswer&);
void answer_notify(const LimitQuestion&, LimitAnswer&);

/// The tables of a kind of device ("B", "BS 3036", "RCBO C20"); empty where it is not understood.
std::vector<std::string> zs_tables_of(const std::string& device);

/// `--table` and `--provenance`.
std::string tables_text(const std::vector<std::string>& names, limits::Edition edition,
                        const Style& style, int width);
Json tables_json(const std::vector<std::string>& names, limits::Edition edition);
std::string table_list_text(int width);
Json table_list_json();
std::string provenance_text(limits::Edition edition, const Style& style, int width);
Json provenance_json(limits::Edition edition);

}  // namespace ohmleaf::cli
