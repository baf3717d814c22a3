#include "seal/secret.h"

#include <sys/mman.h>

#include <cstdlib>
#include <cstring>
#include <utility>

namespace ohmleaf::seal {
namespace {

constexpr std::size_t kPage = Secret::kMax + 1;

}  // namespace

Secret::Secret() {
  void* page = ::mmap(nullptr, kPage, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (page == MAP_FAILED) std::abort();  // as a failed `new` would end it
  bytes_ = static_cast<char*>(page);
  locked_ = ::mlock(bytes_, kPage) == 0;
  ::madvise(bytes_, kPage, MADV_DONTDUMP);
  ::madvise(bytes_, kPage, MADV_WIPEONFORK);  // a child that decodes a picture has no use for it
}

Secret::~Secret() {
  if (bytes_ == nullptr) return;
  clear();
  ::munmap(bytes_, kPage);
}

Secret::Secret(Secret&& other) noexcept
    : bytes_(std::exchange(other.bytes_, nullptr)),
      size_(std::exchange(other.size_, 0)),
      locked_(other.locked_) {}

Secret& Secret::operator=(Secret&& other) noexcept {
  std::swap(bytes_, other.bytes_);
  std::swap(size_, other.size_);
  std::swap(locked_, other.locked_);
  return *this;
}

bool Secret::push(char c) {
  if (bytes_ == nullptr || size_ == kMax || c == '\0') return false;
  bytes_[size_++] = c;
  return true;
}

void Secret::pop() {
  if (size_ > 0) bytes_[--size_] = '\0';
}

void Secret::clear() {
  if (bytes_ != nullptr) ::explicit_bzero(bytes_, kPage);
  size_ = 0;
}

}  // namespace ohmleaf::seal
