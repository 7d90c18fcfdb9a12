#include "logbook/place.h"

namespace graftwright {

LogbookPlace LogbookPlace::of(const std::string& file_or_url) {
    const bool server = file_or_url.starts_with("postgresql://") || file_or_url.starts_with("postgres://");
    return {file_or_url, server};
}

std::string LogbookPlace::shown() const {
    if (!server) return text;
    const std::size_t begin = text.find("://") + 3;
    const std::size_t end = text.find('/', begin);
    const std::size_t at = text.rfind('@', end);
    const std::size_t colon = text.find(':', begin);
    std::string out = text;
    if (at != std::string::npos && at >= begin && colon < at) out = text.substr(0, colon) + text.substr(at);
    // A password may also stand among the parameters.
    for (std::size_t from = out.find("password="); from != std::string::npos; from = out.find("password=", from + 9)) {
        const std::size_t stop = out.find('&', from);
        out.replace(from + 9, (stop == std::string::npos ? out.size() : stop) - from - 9, "…");
    }
    return out;
}

std::string LogbookPlace::fault() const {
    if (text.empty()) return "a logbook is a file or a postgresql:// URL, and nothing was given";
    if (server) {
        for (const char c : text)
            if (static_cast<unsigned char>(c) <= ' ') return "a URL has no spaces: write them %20";
        return "";
    }
    if (text.find("://") != std::string::npos && text.find("://") < text.find('/'))
        return "a logbook on a server is a URL that starts with postgresql://";
    if (text.find('"') != std::string::npos) return "a logbook's file name has no double quotes";
    return "";
}

std::string default_logbook(const std::string& xdg_data_home, const std::string& home) {
    // The standard asks to ignore relative paths in the variable.
    if (xdg_data_home.starts_with('/')) return xdg_data_home + "/graftwright/logbook.sqlite";
    if (home.empty()) return "";
    return home + "/.local/share/graftwright/logbook.sqlite";
}

}  // namespace graftwright
