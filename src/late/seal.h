#pragma once
#include "seal/check.h"
#include "seal/key.h"
#include "seal/stamp.h"

namespace ohmleaf::late {

/// Every function of the layer that needs OpenSSL and is called from outside.
struct Seal {
  static constexpr const char* kModule = "seal";
  decltype(&seal::Key::open) open_key;
  decltype(&seal::Key::make) make_key;
  decltype(&seal::Key::holder) holder;
  decltype(&seal::Key::sign) sign;
  decltype(&seal::Key::room) room;
  decltype(&seal::Roots::read) read_roots;
  decltype(&seal::check_signature) check_signature;
  decltype(&seal::der_length) der_length;
  decltype(&seal::check_trust) check_trust;
  decltype(&seal::stamp_request) stamp_request;
  decltype(&seal::check_stamp) check_stamp;
  decltype(&seal::guard_process) guard_process;
};

}  // namespace ohmleaf::late
