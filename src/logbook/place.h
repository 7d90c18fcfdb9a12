// Where a logbook is: a file, or a database server by URL. The one place that reads what follows --logbook.
//
// A URL may hold a password. What a place says of itself (shown, fault) is put together from parts that are known
// to be no secret, and says nothing at all of a text that it can't understand; words of others go through
// without_secrets.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace graftwright {

class LogbookPlace {
  public:
    [[nodiscard]] static LogbookPlace of(const std::string& file_or_url);

    [[nodiscard]] bool server() const { return server_; }
    // Of a file; "" for a server and for what can't be understood.
    [[nodiscard]] const std::string& path() const { return path_; }
    // Of a server: what its library connects by, password and all. Never to be shown.
    [[nodiscard]] const std::map<std::string, std::string>& parameters() const { return parameters_; }

    // For messages: the path, or user, host and database; "…" for what can't be understood.
    [[nodiscard]] const std::string& shown() const { return shown_; }
    // What can't be understood, as a sentence that repeats nothing of it; "" where all is well.
    [[nodiscard]] const std::string& fault() const { return fault_; }
    // Somebody else's words (the library's, the server's), with whatever is secret blanked.
    [[nodiscard]] std::string without_secrets(std::string words) const;

  private:
    bool server_ = false;
    std::string path_, shown_, fault_;
    std::map<std::string, std::string> parameters_;
    std::vector<std::string> secrets_;  // the longest first
};

// Of any argument: it looks like a connection, or what is left of one, whatever place it was meant for.
[[nodiscard]] bool may_hold_password(const std::string& text);

// $XDG_DATA_HOME/graftwright/logbook.sqlite, or ~/.local/share/…: the two variables' values are given
// ("" where they are not set). "" without either.
[[nodiscard]] std::string default_logbook(const std::string& xdg_data_home, const std::string& home);

}  // namespace graftwright
