// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_MEMORY_H
#define LOAMWAY_SRC_BUILD_MEMORY_H

// A build peaks at some fifty bytes for each node of the map; what is done with is given back at once.

#include <utility>

namespace loamway {

/// Empties a container and frees its memory; assigning {} would keep the memory.
template <class Container>
void release_memory(Container& c) {
    Container empty;
    std::swap(c, empty);
}

/// Hands memory that was freed in small pieces back to the system, where the C library can do that.
void trim_memory();

}  // namespace loamway

#endif
