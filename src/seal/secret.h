#pragma once
#include <cstddef>
#include <string_view>

#include "base/diagnostic.h"

namespace ohmleaf::seal {

/// A password on a page of its own: locked against the swap space where the system lets it, left
/// out of core files, overwritten when it is done with. Holds up to `kMax` bytes and no zero byte.
class Secret {
 public:
  static constexpr std::size_t kMax = 1023;

  Secret();
  ~Secret();
  Secret(Secret&& other) noexcept;
  Secret& operator=(Secret&& other) noexcept;
  Secret(const Secret&) = delete;
  Secret& operator=(const Secret&) = delete;

  /// False where there is no room, or for a zero byte.
  bool push(char c);
  void pop();  ///< the last byte, if there is one
  void clear();
  std::size_t size() const { return size_; }
  /// Ends with a zero byte, so that C can read it.
  std::string_view view() const { return {bytes_, size_}; }
  bool locked() const { return locked_; }  ///< kept out of the swap space
  friend bool operator==(const Secret& a, const Secret& b) { return a.view() == b.view(); }

 private:
  char* bytes_ = nullptr;
  std::size_t size_ = 0;
  bool locked_ = false;
};

/// Before a password or a key is read: from now on this process leaves no core file, no other
/// process of the same user can look into it, and private keys live in memory that is locked and
/// left out of dumps. For the rest of the process; once is enough. False, with an error in `out`,
/// where the system does not do it: then nothing secret may be read.
bool guard_process(Diagnostics& out);

}  // namespace ohmleaf::seal
