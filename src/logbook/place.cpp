#include "logbook/place.h"

#include <algorithm>
#include <cctype>

#include "logbook/server_url.h"

namespace graftwright {
namespace {

// To blank a shorter password would make a riddle of the words around it, and its answer of the password.
constexpr std::size_t kShortestBlanked = 4;

std::string in_small_letters(std::string text) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

// "password=…", "host = …": a connection in the library's other way of writing.
bool is_name_and_value(const std::string& text) {
    const std::string small = in_small_letters(text);
    const auto equals_behind = [&](std::size_t end) {
        end = small.find_first_not_of(" \t", end);
        return end != std::string::npos && small[end] == '=';
    };
    for (std::size_t at = small.find("password"); at != std::string::npos; at = small.find("password", at + 1))
        if (equals_behind(at + 8)) return true;
    for (const std::string name : {"host", "hostaddr", "port", "dbname", "user", "service"})
        if (const std::size_t begin = small.find_first_not_of(" \t"); begin != std::string::npos &&
                                                                      small.compare(begin, name.size(), name) == 0 &&
                                                                      equals_behind(begin + name.size()))
            return true;
    return false;
}

// Why a text is not a file's name. Whoever misspells a URL should not get a file of that name.
std::string fault_of_file(const std::string& text) {
    if (text.empty()) return "a logbook is a file or a postgresql:// URL, and nothing was given";
    const bool with_folder = text.starts_with("./") || text.starts_with("../") || text.starts_with('/');
    const std::size_t colon = text.find(':');
    if (text.find("://") != std::string::npos || (colon != std::string::npos && text.starts_with("//")) ||
        (colon != std::string::npos && !with_folder))
        return "this looks like a URL, and a logbook on a server is one that starts with postgresql:// in small "
               "letters;"
               " a file with a colon in its name is given with its folder, as ./name";
    if (is_name_and_value(text))
        return "a logbook on a server is given as a URL, postgresql://user@host/database, not as name=value";
    if (colon != std::string::npos && text.find('@', colon) != std::string::npos)
        return "a file's name with a colon and an @ behind it may be a URL with a password that lost its beginning:"
               " rename the file, or start the URL with postgresql://";
    if (text.find('"') != std::string::npos) return "a logbook's file name has no double quotes";
    return "";
}

}  // namespace

LogbookPlace LogbookPlace::of(const std::string& file_or_url) {
    LogbookPlace place;
    place.shown_ = "…";
    if (file_or_url.starts_with("postgresql://") || file_or_url.starts_with("postgres://")) {
        ServerUrl url = read_server_url(file_or_url);
        place.server_ = true;
        place.fault_ = std::move(url.fault);
        if (!place.fault_.empty()) return place;
        place.parameters_ = std::move(url.parameters);
        place.shown_ = std::move(url.shown);
        place.secrets_ = std::move(url.secrets);
        std::sort(place.secrets_.begin(), place.secrets_.end(),
                  [](const std::string& a, const std::string& b) { return a.size() > b.size(); });
        return place;
    }
    place.fault_ = fault_of_file(file_or_url);
    if (place.fault_.empty()) place.shown_ = place.path_ = file_or_url;
    return place;
}

std::string LogbookPlace::without_secrets(std::string words) const {
    for (const std::string& secret : secrets_) {
        std::size_t at = words.find(secret);
        if (at != std::string::npos && secret.size() < kShortestBlanked)
            return "the reason holds the password and is not repeated";
        for (; at != std::string::npos; at = words.find(secret, at)) words.replace(at, secret.size(), "…");
    }
    return words;
}

bool may_hold_password(const std::string& text) {
    const std::size_t colon = text.find(':');
    return is_name_and_value(text) || (colon != std::string::npos && (text.find('@', colon) != std::string::npos ||
                                                                      in_small_letters(text).starts_with("postgres")));
}

std::string default_logbook(const std::string& xdg_data_home, const std::string& home) {
    // The standard asks to ignore relative paths in the variable.
    if (xdg_data_home.starts_with('/')) return xdg_data_home + "/graftwright/logbook.sqlite";
    if (home.empty()) return "";
    return home + "/.local/share/graftwright/logbook.sqlite";
}

}  // namespace graftwright
