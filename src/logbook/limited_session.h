// A session on a PostgreSQL server that waits a limited time for every answer.
//
// SOCI waits for ever, and no setting of the server's or of the network's helps where the server is frozen: its
// machine still acknowledges every byte. So a watch stands beside each call that talks to the server, and shuts the
// socket under it when the time is over; the library then takes the connection for lost. Connecting, which has no
// socket to shut yet, happens on a thread of its own, which is left behind where it does not come back. Private to
// this room.
#pragma once

#include <memory>
#include <stdexcept>
#include <string>

namespace soci {
class session;
}

namespace graftwright {

class NoAnswer : public std::runtime_error {
  public:
    explicit NoAnswer(int seconds) : std::runtime_error("no answer within " + std::to_string(seconds) + " s") {}
};

class AnswerWatch;

struct LimitedSession {
    std::shared_ptr<AnswerWatch> watch;  // outlives the session
    std::unique_ptr<soci::session> session;
};

// Whatever the library throws, or NoAnswer after open_s seconds; answer_s is each statement's later on.
[[nodiscard]] LimitedSession open_limited(const std::string& connection, int open_s, int answer_s);

// True: the watch has ended the connection, and what the library says of it is not the reason.
[[nodiscard]] bool has_given_up(const AnswerWatch& watch);

}  // namespace graftwright
