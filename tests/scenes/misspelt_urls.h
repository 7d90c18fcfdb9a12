// Hundreds of connections to a database, most of them misspelt, each with a password that must not be said.
#pragma once

#include <cctype>
#include <string>
#include <vector>

namespace graftwright::test {

// Its two halves stand on both sides of whatever a URL's readers may stumble over.
inline const std::string kSecretHead = "Sesame77", kSecretTail = "Opens88";

// Said in part is said, and small letters are no disguise.
[[nodiscard]] inline bool tells_the_secret(std::string words) {
    for (char& c : words) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return words.find("sesame77") != std::string::npos || words.find("opens88") != std::string::npos ||
           words.find("esame%37") != std::string::npos;
}

[[nodiscard]] inline std::vector<std::string> misspelt_urls() {
    // Port 9, "discard": nobody answers there.
    const std::string host = "127.0.0.1:9";
    std::vector<std::string> all;
    for (const std::string scheme :
         {"postgresql://", "postgres://", "postgresql:/", "postgresql:", "postgresql//", "postgresql:///",
          "POSTGRESQL://", "Postgres://", "postgre://", "mysql://", "http://", "://", "//", "", " postgresql://",
          "postgresql:\\\\", "postgresql ://", "jdbc:postgresql://"}) {
        for (const std::string between : {"",    "@",   "/", ":",  "?",  "#", "%",  "%zz", "%4", "%40",
                                          "%2F", "%00", " ", "\t", "\"", "'", "\\", "&",   "=",  ";"}) {
            const std::string secret = kSecretHead + between + kSecretTail;
            all.push_back(scheme + "odo:" + secret + "@" + host + "/unit");
            if (between.empty() || between == "@" || between == "/") {
                all.push_back(scheme + ":" + secret + "@" + host + "/unit");
                all.push_back(scheme + "odo:" + secret + "@/unit?host=127.0.0.1&port=9");
                all.push_back(scheme + "odo:" + secret + "@" + host + "/unit?password=" + secret);
                all.push_back(scheme + "odo@" + host + "/unit?password=" + secret);
                all.push_back(scheme + "odo:" + secret + "@127.0.0.1:70000/unit");
            }
        }
    }
    const std::string secret = kSecretHead + kSecretTail, credentials = "odo:" + secret + "@";
    for (const std::string& rest : {std::string("127.0.0.1:bad/unit"),
                                    std::string("127.0.0.1:-9/unit"),
                                    std::string("127.0.0.1:9:9/unit"),
                                    std::string("[::1/unit"),
                                    std::string("[x]:9/unit"),
                                    std::string(":9:/unit"),
                                    host + "/unit/" + secret,
                                    host + "/unit@other",
                                    host + "/my unit",
                                    host + "/unit?",
                                    host + "/unit?" + secret,
                                    host + "/unit?" + secret + "=1",
                                    host + "/unit?pasword=" + secret,
                                    host + "/unit?password=" + secret + "=1",
                                    host + "/unit?connect_timeout=" + secret,
                                    host + "/unit?sslmode=" + secret,
                                    host + "/unit?port=" + secret,
                                    host + "/unit?options=-c%20" + secret,
                                    host + "/unit?password=Sesame%377Opens88",
                                    host + "/unit?connect_timeout=0",
                                    host + "/unit?sslpassword=" + secret,
                                    host + "/unit#" + secret,
                                    host + "\n/unit"})
        all.push_back("postgresql://" + credentials + rest);
    for (const std::string& text :
         {"host=127.0.0.1 port=9 password=" + secret, "password=" + secret, "PASSWORD = '" + secret + "'",
          "dbname=unit password=" + secret, "user=odo password = " + secret + " host=127.0.0.1", "/password=" + secret,
          "./postgresql://odo:" + secret + "@" + host + "/unit", "/odo:" + secret + "@" + host + "/unit",
          "postgresql://odo%3A" + secret + "@" + host + "/unit",
          "postgresql://" + host + "/odo%3A" + secret + "%40other",
          "postgresql%3A%2F%2Fodo:" + secret + "@" + host + "/unit",
          "--logbook=postgresql://odo:" + secret + "@" + host})
        all.push_back(text);
    return all;
}

}  // namespace graftwright::test
