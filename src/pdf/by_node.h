#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "layout/frames.h"

namespace ohmleaf::pdf {

/// Values by node, each node's in the order in which they came: two arrays, however many nodes.
template <typename T>
class ByNode {
 public:
  /// `each` is called twice with somebody to call with (node, value), to count and to keep.
  template <typename Each>
  ByNode(std::size_t nodes, Each each) : begin_(nodes + 1) {
    each([this](layout::NodeId node, const T&) { ++begin_[static_cast<std::size_t>(node) + 1]; });
    for (std::size_t i = 0; i < nodes; ++i) begin_[i + 1] += begin_[i];
    values_.resize(begin_[nodes]);
    std::vector<std::uint32_t> next(begin_.begin(), begin_.end() - 1);
    each([&](layout::NodeId node, const T& value) {
      values_[next[static_cast<std::size_t>(node)]++] = value;
    });
  }
  std::span<const T> of(std::size_t node) const {
    return std::span(values_).subspan(begin_[node], begin_[node + 1] - begin_[node]);
  }

 private:
  std::vector<std::uint32_t> begin_;
  std::vector<T> values_;
};

/// The children of each, in the order of the nodes, which is the reading order.
using Children = ByNode<std::int32_t>;
inline Children children_of(const std::vector<layout::Node>& nodes) {
  return {nodes.size(), [&](const auto& take) {
            for (std::size_t i = 1; i < nodes.size(); ++i)
              take(nodes[i].parent, static_cast<std::int32_t>(i));
          }};
}

}  // namespace ohmleaf::pdf
