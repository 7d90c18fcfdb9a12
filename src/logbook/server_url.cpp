#include "logbook/server_url.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <memory>

#include <libpq-fe.h>

namespace graftwright {
namespace {

constexpr const char* kSpaces = "a URL has no spaces: write them %20";
constexpr const char* kEscapes = "a % in a URL stands before two hexadecimal digits: write % itself %25";
constexpr const char* kSeparators =
    "a URL has one @, between password and host: in a name or a password write @ as %40 and / as %2F";
constexpr const char* kUser = "a user's name has letters, digits and . - _ ~: write anything else with percent signs";
constexpr const char* kHost = "a host is a name or an address, and behind its colon a port from 1 to 65535";
constexpr const char* kDatabase =
    "behind the host come one / and the database's name: write / : @ # in it with percent signs";
constexpr const char* kParameter =
    "behind the ? come parameters that PostgreSQL knows, as name=value with & between them";
constexpr const char* kTimeout = "connect_timeout is 1 to 600 seconds";

bool is_hex(char c) { return std::isxdigit(static_cast<unsigned char>(c)) != 0; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
// May stand as it is in any part of a URL and says nothing but itself. (Bytes of UTF-8 are taken for letters.)
bool is_plain(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x80 || std::isalnum(byte) != 0 || c == '.' || c == '-' || c == '_' || c == '~';
}

bool escapes_are_whole(const std::string& text) {
    for (std::size_t at = text.find('%'); at != std::string::npos; at = text.find('%', at + 1)) {
        if (at + 2 >= text.size() || !is_hex(text[at + 1]) || !is_hex(text[at + 2])) return false;
        if (text.compare(at + 1, 2, "00") == 0) return false;
    }
    return true;
}

std::string decoded(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '%') {
            out += static_cast<char>(std::stoi(text.substr(i + 1, 2), nullptr, 16));
            i += 2;
        } else {
            out += text[i];
        }
    }
    return out;
}

std::string encoded(const std::string& text) {
    static constexpr char kDigits[] = "0123456789ABCDEF";
    std::string out;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (is_plain(c) && byte < 0x80)
            out += c;
        else
            out += {'%', kDigits[byte >> 4], kDigits[byte & 15]};
    }
    return out;
}

std::vector<std::string> split(const std::string& text, char between) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c == between)
            parts.emplace_back();
        else
            parts.back() += c;
    }
    return parts;
}

bool all_plain(const std::string& text, const std::string& and_these) {
    return std::all_of(text.begin(), text.end(),
                       [&](char c) { return is_plain(c) || and_these.find(c) != std::string::npos; });
}

bool is_port(const std::string& text) {
    if (text.empty()) return true;
    if (text.size() > 5 || !std::all_of(text.begin(), text.end(), is_digit)) return false;
    const int port = std::stoi(text);
    return port >= 1 && port <= 65535;
}

bool is_address_6(const std::string& text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](char c) { return is_hex(c) || c == ':' || c == '.'; });
}

bool is_known(const std::string& name) {
    const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> all(PQconninfoParse("", nullptr),
                                                                             PQconninfoFree);
    for (const PQconninfoOption* one = all.get(); one != nullptr && one->keyword != nullptr; ++one)
        if (name == one->keyword) return true;
    return false;
}

// A part that is shown wherever it can't be a whole connection, or a name with its password, in disguise.
std::string shown_part(const std::string& name, const std::string& value) {
    const bool plain = name == "host" ? all_plain(value, "/") || is_address_6(value) : all_plain(value, " !$+()'");
    if (!plain) return "…";
    std::string out;
    for (const char c : value) out += c == ' ' ? "%20" : std::string(1, c);
    return out;
}

class Reader {
  public:
    // The URL's parts, the fault of the first that can't be understood.
    ServerUrl read(const std::string& url) {
        ServerUrl read;
        read.fault = parts(url);
        if (!read.fault.empty()) return read;
        read.parameters = parameters_;
        read.shown = shown();
        read.secrets = secrets();
        return read;
    }

  private:
    std::string parts(const std::string& url) {
        const auto is_blank = [](char c) { return static_cast<unsigned char>(c) <= ' ' || c == '\x7f'; };
        if (std::any_of(url.begin(), url.end(), is_blank)) return kSpaces;
        if (!escapes_are_whole(url)) return kEscapes;
        std::string rest = url.substr(url.find("://") + 3);
        if (const std::size_t at = rest.find('@'); at != std::string::npos) {
            if (rest.rfind('@') != at || rest.find('/') < at) return kSeparators;
            if (!user(rest.substr(0, at))) return kUser;
            rest.erase(0, at + 1);
        }
        const std::size_t question = std::min(rest.find('?'), rest.size());
        const std::size_t slash = std::min(rest.find('/'), question);
        if (!hosts(rest.substr(0, slash))) return kHost;
        if (slash < question && !database(rest.substr(slash + 1, question - slash - 1))) return kDatabase;
        if (question < rest.size() && !query(rest.substr(question + 1))) return kParameter;
        if (const auto given = parameters_.find("connect_timeout"); given != parameters_.end()) {
            const std::string& seconds = given->second;
            if (seconds.empty() || seconds.size() > 3 || !std::all_of(seconds.begin(), seconds.end(), is_digit) ||
                std::stoi(seconds) < 1 || std::stoi(seconds) > 600)
                return kTimeout;
        }
        const auto port = parameters_.find("port");
        if (port == parameters_.end()) return "";
        for (const std::string& one : split(port->second, ','))
            if (!is_port(one)) return kHost;
        return "";
    }

    void set(const std::string& name, const std::string& raw) {
        if (raw.empty()) return;
        parameters_[name] = decoded(raw);
        raw_[name] = raw;
    }

    bool user(const std::string& text) {
        const std::size_t colon = text.find(':');
        if (!all_plain(text.substr(0, colon), "%!$&'()*+,;=")) return false;
        set("user", text.substr(0, colon));
        if (colon != std::string::npos) set("password", text.substr(colon + 1));
        return true;
    }

    bool hosts(const std::string& text) {
        std::string names, ports, comma;
        bool any_port = false;
        for (const std::string& one : split(text, ',')) {
            const std::size_t bracket = one.starts_with('[') ? one.find(']') : std::string::npos;
            if (one.starts_with('[') && bracket == std::string::npos) return false;
            const std::size_t colon = one.find(':', bracket == std::string::npos ? 0 : bracket);
            const std::string port = colon == std::string::npos ? "" : one.substr(colon + 1);
            std::string name = one.substr(0, colon);
            if (bracket != std::string::npos) {
                if (name.size() != bracket + 1) return false;
                name = name.substr(1, bracket - 1);
                if (!is_address_6(name)) return false;
            } else if (!all_plain(name, "%")) {
                return false;
            }
            if (!is_port(port)) return false;
            any_port = any_port || !port.empty();
            names += comma + name;
            ports += comma + port;
            comma = ",";
        }
        set("host", names);
        if (any_port) set("port", ports);
        return true;
    }

    bool database(const std::string& text) {
        set("dbname", text);
        return all_plain(text, "%!$&'()*+,;=");
    }

    bool query(const std::string& text) {
        if (text.empty()) return true;
        for (const std::string& one : split(text, '&')) {
            const std::size_t equals = one.find('=');
            if (equals == std::string::npos || one.find('=', equals + 1) != std::string::npos) return false;
            const std::string name = decoded(one.substr(0, equals));
            if (!is_known(name)) return false;
            set(name, one.substr(equals + 1));
        }
        return true;
    }

    [[nodiscard]] static bool is_shown(const std::string& name, const std::string& value) {
        const std::vector<std::string> parts = split(value, name == "host" ? ',' : '\0');
        return std::all_of(parts.begin(), parts.end(),
                           [&](const std::string& part) { return shown_part(name, part) != "…"; });
    }
    [[nodiscard]] std::string value_of(const std::string& name) const {
        const auto found = parameters_.find(name);
        return found == parameters_.end() ? "" : found->second;
    }

    [[nodiscard]] std::string shown() const {
        std::string out = "postgresql://";
        if (const std::string user = value_of("user"); !user.empty()) out += shown_part("user", user) + "@";
        const std::vector<std::string> names = split(value_of("host"), ','), ports = split(value_of("port"), ',');
        for (std::size_t i = 0; i < names.size(); ++i) {
            const std::string name = shown_part("host", names[i]);
            const std::string port = ports.size() == 1 ? ports[0] : i < ports.size() ? ports[i] : "";
            out += (i > 0 ? "," : "") + (name.find(':') == std::string::npos ? name : "[" + name + "]") +
                   (port.empty() ? "" : ":" + port);
        }
        if (const std::string name = value_of("dbname"); !name.empty()) out += "/" + shown_part("dbname", name);
        return out;
    }

    // Whatever is not shown and might be repeated by the library or the server, in all its spellings. A word that was
    // meant for another place is as secret; a number, or "on", can't be one.
    [[nodiscard]] std::vector<std::string> secrets() const {
        std::vector<std::string> out;
        for (const auto& [name, value] : parameters_) {
            const bool password = name == "password" || name == "sslpassword";
            const bool on_show = (name == "user" || name == "host" || name == "dbname") && is_shown(name, value);
            const bool said = on_show || name == "port" || name == "connect_timeout";
            if (password || (!said && value.size() >= 4)) out.insert(out.end(), {value, raw_.at(name), encoded(value)});
        }
        return out;
    }

    std::map<std::string, std::string> parameters_, raw_;
};

}  // namespace

ServerUrl read_server_url(const std::string& url) { return Reader().read(url); }

std::string connection_words(const std::map<std::string, std::string>& parameters) {
    std::string out = "postgresql://?";
    for (const auto& [name, value] : parameters) out += (out.back() == '?' ? "" : "&") + name + "=" + encoded(value);
    return out;
}

}  // namespace graftwright
