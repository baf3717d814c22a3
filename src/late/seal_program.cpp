#include "late/door.h"
#include "late/seal.h"

namespace ohmleaf::seal {

std::optional<Key> Key::open(std::string_view bytes, const std::string& file, const Secret& password,
                             Instant now, Diagnostics& out) {
  return late::door<late::Seal>().open_key(bytes, file, password, now, out);
}
std::optional<Key::Made> Key::make(const std::string& name, const std::string& organisation, Kind kind,
                                   int years, Instant now, const Secret& password, Diagnostics& out) {
  return late::door<late::Seal>().make_key(name, organisation, kind, years, now, password, out);
}
const Holder& Key::holder() const { return (this->*late::door<late::Seal>().holder)(); }
std::optional<std::string> Key::sign(std::string_view before, std::string_view after,
                                     Diagnostics& out) const {
  return (this->*late::door<late::Seal>().sign)(before, after, out);
}
std::size_t Key::room() const { return (this->*late::door<late::Seal>().room)(); }
std::optional<Roots> Roots::read(std::string_view pem, const std::string& file, Diagnostics& out) {
  return late::door<late::Seal>().read_roots(pem, file, out);
}
SignatureCheck check_signature(std::string_view cms, std::string_view before, std::string_view after) {
  return late::door<late::Seal>().check_signature(cms, before, after);
}
std::size_t der_length(std::string_view bytes) { return late::door<late::Seal>().der_length(bytes); }
Trust check_trust(std::string_view cms, const Roots* roots, Instant at) {
  return late::door<late::Seal>().check_trust(cms, roots, at);
}
std::string stamp_request(std::string_view bytes) {
  return late::door<late::Seal>().stamp_request(bytes);
}
StampCheck check_stamp(std::string_view token, std::string_view bytes, const Roots* roots) {
  return late::door<late::Seal>().check_stamp(token, bytes, roots);
}
bool guard_process(Diagnostics& out) { return late::door<late::Seal>().guard_process(out); }

}  // namespace ohmleaf::seal
