#include <fmt/format.h>

#include "base/text.h"
#include "record/read.h"

namespace ohmleaf::record {
namespace {

/// Looks up what one record names in another.
class References {
 public:
  References(const Job& job, const Installer& installer, Diagnostics& out)
      : job_(job), out_(out) {
    for (const Person& p : installer.people) people_.push_back(p.id);
    for (const Instrument& i : installer.instruments) instruments_.push_back(i.id);
    for (const CatalogueItem& c : installer.catalogue) catalogue_.push_back(c.id);
    for (const Circuit& c : job.circuits)
      if (c.ref) refs_.push_back(*c.ref);
  }

  void run() {
    person(job_.person);
    person(job_.isolation.by);
    for (const auto role :
         {&Signing::design, &Signing::construction, &Signing::inspection, &Signing::authorised})
      person(job_.signing.*role);
    for (const Text& t : job_.instruments) instrument(t);
    instrument(job_.isolation.proving_unit);
    instrument(job_.isolation.indicator);
    for (const Circuit& c : job_.circuits) {
      instrument(c.dead.instrument);
      instrument(c.live.instrument);
      for (const Accessory& a : c.accessories) item(a.item);
    }
    for (const Control& c : job_.controls) item(c.item);
    for (const Confirmation& c : job_.confirmations) confirmed(c);
    for (const Observation& o : job_.observations) circuit(o.circuit);
  }

 private:
  void person(const Text& t) { look_up(t, people_, "person", "[person.{}]"); }
  void instrument(const Text& t) { look_up(t, instruments_, "instrument", "[instrument.{}]"); }
  void item(const Text& t) { look_up(t, catalogue_, "accessory", "[accessory.{}]"); }

  void look_up(const Text& t, const std::vector<std::string_view>& known, std::string_view what,
               std::string_view heading) {
    if (!t || contains(known, *t)) return;
    Diagnostic& d = out_.error("unknown-reference", t.span,
                               fmt::format("installer.toml has no {} \"{}\"", what, visible(*t)));
    suggest(d, *t, known);
    d.hints.push_back("To add it, write " + fmt::format(fmt::runtime(heading), visible(*t)) +
                      " into installer.toml.");
  }

  bool circuit(const Text& t) {
    if (!t || contains(refs_, *t)) return true;
    Diagnostic& d = out_.error("unknown-reference", t.span,
                               fmt::format("the job has no circuit \"{}\"", visible(*t)));
    suggest(d, *t, refs_);
    return false;
  }

  /// A confirmation's circuit: by its reference, and by its board where two boards share it.
  void confirmed(const Confirmation& c) {
    if (!c.circuit) {
      if (c.board)
        out_.error("unknown-reference", c.board.span,
                   "the confirmation names a board, but no circuit")
            .hints.push_back("Add circuit = \"…\", or take the board out.");
      return;
    }
    if (!circuit(c.circuit)) return;
    std::vector<std::string_view> boards;
    std::size_t meant = 0;
    for (const Circuit& known : job_.circuits) {
      if (!known.ref || *known.ref != *c.circuit) continue;
      boards.push_back(known.board ? std::string_view(*known.board) : std::string_view());
      if (!c.board || boards.back() == *c.board) ++meant;
    }
    if (meant == 1) return;
    if (meant == 0) {
      Diagnostic& d = out_.error("unknown-reference", c.board.span,
                                 fmt::format("board \"{}\" has no circuit \"{}\"",
                                             visible(*c.board), visible(*c.circuit)));
      suggest(d, *c.board, boards);
      return;
    }
    Diagnostic& d = out_.error(
        "ambiguous-reference", c.circuit.span,
        fmt::format(
            "{} circuits are called \"{}\", and the confirmation does not say which it means",
            meant, visible(*c.circuit)));
    d.hints.push_back("Add board, one of: " + join({boards.begin(), boards.end()}, ", ") + ".");
  }

  static bool contains(const std::vector<std::string_view>& known, std::string_view word) {
    for (const std::string_view k : known)
      if (k == word) return true;
    return false;
  }

  static void suggest(Diagnostic& d, std::string_view word,
                      const std::vector<std::string_view>& known) {
    if (const auto near = nearest(word, known))
      d.hints.push_back(fmt::format("Did you mean \"{}\"?", *near));
    else if (!known.empty())
      d.hints.push_back("Known: " + join({known.begin(), known.end()}, ", ") + ".");
  }

  const Job& job_;
  Diagnostics& out_;
  std::vector<std::string_view> people_, instruments_, catalogue_, refs_;
};

}  // namespace

bool check_references(const Job& job, const Installer& installer, Diagnostics& out) {
  Diagnostics found;
  References(job, installer, found).run();
  found.sort();
  for (const Diagnostic& d : found.all()) out.add(d);
  return found.ok();
}

}  // namespace ohmleaf::record
