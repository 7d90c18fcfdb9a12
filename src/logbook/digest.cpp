#include "logbook/digest.h"

#include <array>
#include <cstdint>
#include <stdexcept>
#include <unistd.h>

#include <nettle/hmac.h>
#include <nettle/sha2.h>

namespace graftwright {
namespace {

using Digest = std::array<std::uint8_t, SHA256_DIGEST_SIZE>;

const std::uint8_t* bytes(std::string_view text) { return reinterpret_cast<const std::uint8_t*>(text.data()); }

std::string hex(const Digest& digest) {
    static constexpr char kDigits[] = "0123456789abcdef";
    std::string out;
    for (const std::uint8_t byte : digest) {
        out += kDigits[byte >> 4];
        out += kDigits[byte & 15];
    }
    return out;
}

Digest hmac(std::string_view key, std::string_view text) {
    hmac_sha256_ctx context;
    hmac_sha256_set_key(&context, key.size(), bytes(key));
    hmac_sha256_update(&context, text.size(), bytes(text));
    Digest digest{};
    hmac_sha256_digest(&context, digest.size(), digest.data());
    return digest;
}

}  // namespace

std::string sha256_hex(std::string_view text) {
    sha256_ctx context;
    sha256_init(&context);
    sha256_update(&context, text.size(), bytes(text));
    Digest digest{};
    sha256_digest(&context, digest.size(), digest.data());
    return hex(digest);
}

std::string pseudonym(std::string_view key_hex, std::string_view name) {
    static constexpr char kLetters[] = "abcdefghijkmnpqrstuvwxyz23456789";  // 32, none like another
    const Digest digest = hmac(key_hex, name);
    std::string out = "trainee-";
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < 5; ++i) bits = bits << 8 | digest[i];
    for (int shift = 35; shift >= 0; shift -= 5) out += kLetters[bits >> shift & 31];
    return out;
}

std::string keyed_hex(std::string_view key_hex, std::string_view text) { return hex(hmac(key_hex, text)); }

std::string random_key_hex() {
    Digest random{};
    if (getentropy(random.data(), random.size()) != 0) throw std::runtime_error("the system gives no random numbers");
    return hex(random);
}

}  // namespace graftwright
