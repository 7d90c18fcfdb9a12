// `study`: many simulated hands at one level, a CSV on standard output.
#pragma once

#include <cstdint>
#include <string>

namespace graftwright {

struct StudyCommand {
    std::string scenario;  // id or file
    std::string hand = "expert";
    int trials = 0;
    std::uint64_t seed = 1;
    int jobs = 0;  // 0: as many as the machine has cores
    std::string shard = "1/1";
    bool shares = false;

    [[nodiscard]] int run() const;
};

}  // namespace graftwright
