#include <array>

#include "record/job_tables.h"

namespace ohmleaf::record {
namespace {
constexpr auto yes = Required::yes;
constexpr auto no = Required::no;
}  // namespace

template <>
std::span<const Key<Control>> keys<Control>() {
  using C = Control;
  static constexpr std::array table{
      key<&C::item>("item", yes, "key of the control in installer.toml"),
      key<&C::where>("where", yes, "where it is kept or fixed"),
      key<&C::controls>("controls", no, "what it works, in words"),
      key<&C::joined>("joined", no, "joined to the radio network"),
      key<&C::radio_level>("radio_level", no, "its place was tried for radio level, doors shut"),
      key<&C::function_tested>("function_tested", no, "tried, and it does what it should"),
      key<&C::battery>("battery", no, "kind of battery left with the client"),
      key<&C::serial>("serial", no, "serial number"),
  };
  return table;
}

template <>
std::span<const Key<Network>> keys<Network>() {
  using N = Network;
  static constexpr std::array table{
      key<&N::hub>("hub", no, "where the hub stands"),
      key<&N::opened>("opened", no, "the network was opened for joining"),
      key<&N::closed>("closed", no, "the network was closed again"),
      key<&N::tried>("tried", no, "every control was tried from its place, with the doors shut"),
      key<&N::accounts_with_client>("accounts_with_client", no,
                                    "the client holds the accounts and passwords"),
  };
  return table;
}

template <>
std::span<const Key<Handover>> keys<Handover>() {
  using H = Handover;
  static constexpr std::array table{
      key<&H::instructions_left>("instructions_left", no, "the makers' instructions were left"),
      key<&H::batteries_left>("batteries_left", no, "spare batteries were left"),
      key<&H::shown>("shown", no, "the client was shown how it works"),
      key<&H::rcd_explained>("rcd_explained", no,
                             "the RCD's test button and what to do when it trips were explained"),
  };
  return table;
}

}  // namespace ohmleaf::record
