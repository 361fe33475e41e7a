// SPDX-License-Identifier: Apache-2.0
// Loading the client of the queue. With the libraries it brings it would cost every command a few
// milliseconds at its start, so it is not linked but opened when a queue is first named.
#include <dlfcn.h>
#include <fmt/format.h>
#include <nats/nats.h>

#include "loamway/base/error.h"
#include "nats_functions.h"

namespace loamway {
namespace {

constexpr const char* library_name = LOAMWAY_NATS_SONAME;  // what this program was compiled against

template <class Function>
void find(void* library, const char* name, Function& function) {
    void* const address = ::dlsym(library, name);
    if (address == nullptr)
        throw Error(ErrorKind::io, fmt::format("{} has no function {}", library_name, name),
                    "install the library this program was built with");
    function = reinterpret_cast<Function>(address);
}

NatsFunctions load() {
    void* const library = ::dlopen(library_name, RTLD_NOW | RTLD_LOCAL);
    if (library == nullptr)
        throw Error(ErrorKind::io, fmt::format("the queue's library cannot be loaded: {}", ::dlerror()),
                    fmt::format("install the package that holds {}", library_name));
    NatsFunctions f;
#define LOAMWAY_NATS_FIND(name) find(library, #name, f.name);
    LOAMWAY_NATS_FUNCTIONS(LOAMWAY_NATS_FIND)
#undef LOAMWAY_NATS_FIND
    return f;
}

}  // namespace

const NatsFunctions& nats() {
    static const NatsFunctions functions = load();
    return functions;
}

}  // namespace loamway
