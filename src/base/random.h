// Random numbers by counting: the n-th number of a stream is a pure function of (seed, stream, n).
//
// No state is shared, so trial 17 draws the same numbers whichever thread, shard or order it runs in.
// Bits come from splitmix64's finaliser (Steele, Lea, Flood, OOPSLA 2014; from memory) over a running
// count. Only integer arithmetic and exact floating-point operations are used, no logarithm or cosine of a
// library: the same bits on every machine. Not for secrets.
#pragma once

#include <cstdint>

namespace graftwright {

// The finaliser: every bit of the answer depends on every bit of the value.
[[nodiscard]] constexpr std::uint64_t mixed_bits(std::uint64_t value) {
    value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9u;
    value = (value ^ (value >> 27)) * 0x94D049BB133111EBu;
    return value ^ (value >> 31);
}

class RandomStream {
  public:
    constexpr RandomStream(std::uint64_t seed, std::uint64_t stream)
        : key_(mixed_bits(seed + kOdd) ^ mixed_bits(mixed_bits(stream + kOdd) + kOdd)) {}

    constexpr std::uint64_t bits() { return mixed_bits(key_ + kOdd * ++count_); }
    // In [0, 1), 53 bits.
    constexpr double uniform() { return static_cast<double>(bits() >> 11) * 0x1.0p-53; }
    // Mean 0, standard deviation 1, within ±6: the sum of twelve uniforms less six, which lies within 0.003
    // of the normal distribution function everywhere (tested) and is exact arithmetic on every machine.
    constexpr double normal() {
        double sum = 0.0;
        for (int i = 0; i < 12; ++i) sum += uniform();
        return sum - 6.0;
    }
    constexpr bool chance(double probability) { return uniform() < probability; }
    // 0 … count−1; the bias is below count/2^53.
    constexpr std::uint64_t below(std::uint64_t count) {
        return static_cast<std::uint64_t>(uniform() * static_cast<double>(count));
    }

  private:
    static constexpr std::uint64_t kOdd = 0x9E3779B97F4A7C15u;  // 2^64 over the golden ratio
    std::uint64_t key_, count_ = 0;
};

}  // namespace graftwright
