#include "late/door.h"
#include "late/seal.h"

namespace ohmleaf::seal {
namespace {

const late::Seal& door() {
  static const late::Seal& opened = late::open<late::Seal>("seal");
  return opened;
}

}  // namespace

std::optional<Key> Key::open(std::string_view bytes, const std::string& file, const Secret& password,
                             Instant now, Diagnostics& out) {
  return door().open_key(bytes, file, password, now, out);
}
std::optional<Key::Made> Key::make(const std::string& name, const std::string& organisation, Kind kind,
                                   int years, Instant now, const Secret& password, Diagnostics& out) {
  return door().make_key(name, organisation, kind, years, now, password, out);
}
const Holder& Key::holder() const { return (this->*door().holder)(); }
std::optional<std::string> Key::sign(std::string_view before, std::string_view after,
                                     Diagnostics& out) const {
  return (this->*door().sign)(before, after, out);
}
std::size_t Key::room() const { return (this->*door().room)(); }
std::optional<Roots> Roots::read(std::string_view pem, const std::string& file, Diagnostics& out) {
  return door().read_roots(pem, file, out);
}
SignatureCheck check_signature(std::string_view cms, std::string_view before, std::string_view after) {
  return door().check_signature(cms, before, after);
}
std::size_t der_length(std::string_view bytes) { return door().der_length(bytes); }
Trust check_trust(std::string_view cms, const Roots* roots, Instant at) {
  return door().check_trust(cms, roots, at);
}
std::string stamp_request(std::string_view bytes) { return door().stamp_request(bytes); }
StampCheck check_stamp(std::string_view token, std::string_view bytes, const Roots* roots) {
  return door().check_stamp(token, bytes, roots);
}
bool guard_process(Diagnostics& out) { return door().guard_process(out); }

}  // namespace ohmleaf::seal
