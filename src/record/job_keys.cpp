#include <array>

#include "record/codec.h"
#include "record/job_tables.h"

// The top of a job file. The help of a key is its documentation: shown with a missing key, in the
// editor, and in the list of keys.

namespace ohmleaf::record {
namespace {

constexpr auto yes = Required::yes;
constexpr auto no = Required::no;

constexpr std::array<std::string_view, 6> kPremises{"dwelling", "high-rise", "multiple-occupation",
                                                    "student",  "care-home", "other"};
constexpr std::array<std::string_view, 4> kNations{"England", "Wales", "Scotland",
                                                   "Northern Ireland"};
constexpr std::string_view kIdForm =
    "lower-case letters, digits, dots, hyphens and underscores, at most 64, a letter or digit "
    "first";

}  // namespace

template <>
std::span<const Key<Job>> keys<Job>() {
  using J = Job;
  static constexpr std::array table{
      key<&J::kind>("kind", yes, "which certificate the job leads to"),
      key<&J::id>("id", no, "names the job for ever; the folder's name where left out",
                  {.accepts = is_id, .form = kIdForm, .pattern = "^[a-z0-9][a-z0-9._-]{0,63}$"}),
      key<&J::date>("date", yes, "day of the inspection and tests"),
      key<&J::design_date>("design_date", no,
                           "day of the design, where it chooses an earlier edition of the rules"),
      key<&J::person>("person", yes, "key of the one who tests and signs, from installer.toml"),
      key<&J::premises>("premises", yes, "address of the premises, with postcode", {.lines = true}),
      key<&J::client>("client", yes, "who ordered the work"),
      key<&J::client_contact>("client_contact", no, "telephone, email or address of the client"),
      key<&J::work>("work", yes, "what was done, in a sentence or two", {.lines = true}),
      key<&J::existing>("existing", no, "comments on the existing installation", {.lines = true}),
      key<&J::dwelling>("dwelling", no, "the premises are a dwelling; true where left out"),
      key<&J::premises_kind>("premises_kind", no,
                             "kind of premises, where arc-fault protection hangs on it",
                             {.words = kPremises}),
      key<&J::nation>("nation", no, "whose building rules decide about notification",
                      {.words = kNations}),
      key<&J::instruments>("instruments", no,
                           "keys of the instruments used; all of installer.toml where left out"),
      key<&J::extent>(
          "extent", no,
          "what a condition report covers: which boards, circuits, rooms, how many points",
          {.lines = true}),
      key<&J::purpose>("purpose", no, "why a condition report was asked for", {.lines = true}),
      key<&J::last_inspection>("last_inspection", no,
                               "day of the inspection before, for a condition report"),
      key<&J::next_inspection>("next_inspection", no,
                               "day by which the installation should be inspected again; not for "
                               "minor works, which never reset it"),
      key<&J::documents>("documents", no,
                         "which documents to print; the usual ones where left out"),
      key<&J::language>("language", no,
                        "language of the pages, such as cymraeg; that of installer.toml where left "
                        "out"),
      key<&J::supply>("supply", no, "the supply and its earthing"),
      key<&J::bonding>("bonding", no, "earthing and main bonding conductors"),
      key<&J::isolation>("isolation", no, "how it was isolated and proved dead"),
      key<&J::circuits>("circuit", no, "one circuit that was worked on"),
      key<&J::controls>("control", no, "one battery control: joined, not wired"),
      key<&J::network>("network", no, "the radio network"),
      key<&J::handover>("handover", no, "what was left with the client"),
      key<&J::inspection>("inspection", no, "the inspection checklist"),
      key<&J::confirmations>("confirmation", no, "a doubtful reading that is confirmed, by name"),
      key<&J::departures>("departure", no, "a departure from the wiring rules"),
      key<&J::limitations>("limitation", no, "a limitation agreed with the client"),
      key<&J::observations>("observation", no, "something seen that is not part of the work"),
      key<&J::dangers>("danger", no, "a danger that was found, and what was done about it at once"),
      key<&J::signing>("signing", no,
                       "who signs for what, where it is not the job's own person for all"),
      key<&J::notification>("notification", no, "notice to building control"),
      key<&J::extra>("extra", no, "fields of the installer's own, bound by his forms"),
  };
  return table;
}

}  // namespace ohmleaf::record
