// Fingerprints and pseudonyms: SHA-256 and HMAC-SHA-256 (FIPS 180-4, RFC 2104), from Nettle.
//
// A fingerprint tells two texts apart wherever they were stored; it hides nothing. A pseudonym hides a name:
// with a plain hash anybody could hash every colleague's name and compare, so it is keyed with 256 random bits
// that stay in the logbook and in no export. Eight letters of base 32 (40 bits): in a group of 1000 the
// chance that any two share one is under one in a million.
#pragma once

#include <string>
#include <string_view>

namespace graftwright {

// 64 hexadecimal digits.
[[nodiscard]] std::string sha256_hex(std::string_view text);

// "trainee-" and eight letters or digits; the same name and key always give the same.
[[nodiscard]] std::string pseudonym(std::string_view key_hex, std::string_view name);
// 64 hexadecimal digits that stand for an entry in an anonymous export.
[[nodiscard]] std::string keyed_hex(std::string_view key_hex, std::string_view text);

// 256 bits from the system's generator, as hexadecimal digits. Throws where it has none.
[[nodiscard]] std::string random_key_hex();

}  // namespace graftwright
