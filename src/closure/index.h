// The algebra's own index, signed: for what stands beside matrices in the standard library's lists.
#pragma once

#include <cstddef>

#include <Eigen/Core>

namespace graftwright {

using Eigen::Index;

template <typename List>
[[nodiscard]] decltype(auto) at(List& list, Index i) {
    return list[static_cast<std::size_t>(i)];
}

}  // namespace graftwright
