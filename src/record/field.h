#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/source.h"

namespace ohmleaf::record {

/// One value of the job with the place where it stands, so that every message can point at it.
template <class T>
struct Field {
  std::optional<T> value;
  Span span;      ///< of the value; not valid where the key is absent
  Span key_span;  ///< of the key

  explicit operator bool() const { return value.has_value(); }
  const T& operator*() const { return *value; }
  const T* operator->() const { return &*value; }
  T value_or(T fallback) const { return value.value_or(std::move(fallback)); }
};

using Text = Field<std::string>;
using Flag = Field<bool>;
using Texts = std::vector<Text>;

}  // namespace ohmleaf::record
