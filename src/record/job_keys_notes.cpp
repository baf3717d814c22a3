#include <array>

#include "record/codec.h"
#include "record/job_tables.h"

// What is told in words: confirmations, departures, limitations, observations, dangers, who signs.

namespace ohmleaf::record {
namespace {

constexpr auto yes = Required::yes;
constexpr auto no = Required::no;

constexpr std::array<std::string_view, 4> kCodes{"C1", "C2", "C3", "FI"};

}  // namespace

template <>
std::span<const Key<Confirmation>> keys<Confirmation>() {
  using R = Confirmation;
  static constexpr std::array table{
      key<&R::check>("check", yes,
                     "name of the check whose doubt is confirmed, as the report shows it"),
      key<&R::circuit>("circuit", no,
                       "reference of the circuit; left out where it is the job itself"),
      key<&R::board>("board", no,
                     "board of that circuit; needed where two boards have a circuit of this "
                     "reference"),
      key<&R::reason>("reason", yes, "why the reading stands after all", {.lines = true}),
      key<&R::by>("by", yes, "who confirms it: a key of a person, or a name"),
  };
  return table;
}

template <>
std::span<const Key<Departure>> keys<Departure>() {
  using R = Departure;
  static constexpr std::array table{
      key<&R::what>("what", yes, "what departs from the wiring rules", {.lines = true}),
      key<&R::reason>("reason", yes, "why it is no less safe", {.lines = true}),
      key<&R::by>("by", no, "who decided it: a key of a person, or a name"),
  };
  return table;
}

template <>
std::span<const Key<Limitation>> keys<Limitation>() {
  using R = Limitation;
  static constexpr std::array table{
      key<&R::what>("what", yes, "what was not inspected or tested, and why", {.lines = true}),
      key<&R::agreed_with>("agreed_with", yes, "with whom that was agreed"),
  };
  return table;
}

template <>
std::span<const Key<Observation>> keys<Observation>() {
  using R = Observation;
  static constexpr std::array table{
      key<&R::what>("what", yes, "what was seen", {.lines = true}),
      key<&R::where>("where", no, "where it is"),
      key<&R::code>("code", no,
                    "in a condition report: C1 danger present, C2 potentially dangerous, "
                    "C3 improvement recommended, FI to be investigated",
                    {.words = kCodes}),
      key<&R::check>("check", no,
                     "name of the check whose finding this classifies, or of its cell: \"inspection.labels\""),
      key<&R::circuit>("circuit", no, "reference of the circuit that the finding is about"),
      key<&R::action>("action", no, "what is to be done about it", {.lines = true}),
  };
  return table;
}

template <>
std::span<const Key<Notification>> keys<Notification>() {
  using R = Notification;
  static constexpr std::array table{
      key<&R::needed>("needed", no, "the work is notifiable to building control"),
      key<&R::route>("route", no, "how it is notified"),
      key<&R::reference>("reference", no, "reference of the notice"),
      key<&R::date>("date", no, "when it was given"),
  };
  return table;
}

template <>
std::span<const Key<Danger>> keys<Danger>() {
  using R = Danger;
  static constexpr std::array table{
      key<&R::what>("what", yes, "what was found, so that the client understands it",
                    {.lines = true}),
      key<&R::where>("where", no, "where it is"),
      key<&R::made_safe>("made_safe", no, "it was made safe before leaving"),
      key<&R::how>("how", no, "how it was made safe, or why it was not", {.lines = true}),
      key<&R::told>("told", no, "who was told, by name"),
      key<&R::told_at>("told_at", no, "when they were told, the time on the wall"),
      key<&R::notice>("notice", no, "where a warning notice was posted"),
      key<&R::distributors>("distributors", no,
                            "it is in the equipment of the electricity distributor"),
      key<&R::distributor>("distributor", no,
                           "whom of the distributor's it was told to, with their reference"),
      key<&R::distributor_at>("distributor_at", no, "when the distributor was told"),
  };
  return table;
}

template <>
std::span<const Key<Signing>> keys<Signing>() {
  using R = Signing;
  static constexpr std::array table{
      key<&R::design>("design", no, "key of the person who signs for the design"),
      key<&R::construction>("construction", no, "key of the person who signs for the construction"),
      key<&R::inspection>("inspection", no,
                          "key of the person who signs for inspection and testing"),
      key<&R::authorised>("authorised", no, "key of the person who authorises a condition report"),
  };
  return table;
}

}  // namespace ohmleaf::record
