// A PostgreSQL of Debian's packages for the tests alone: in a folder of its own, on a loopback port, as a user
// who is not root, stopped and swept away at the end. What is missing here fails the test: nothing is skipped.
#pragma once

#include <unistd.h>

#include <arpa/inet.h>
#include <sys/socket.h>
#include <sys/wait.h>

#include "backends.h"

namespace graftwright::test {

inline int shell(const std::string& command) {
    const int status = std::system((command + " >/dev/null 2>&1 </dev/null").c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

// A port that nobody listens on just now.
[[nodiscard]] inline int free_port() {
    const int listener = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof address;
    auto* const plain = reinterpret_cast<sockaddr*>(&address);
    if (bind(listener, plain, size) != 0 || getsockname(listener, plain, &size) != 0) return 0;
    close(listener);
    return ntohs(address.sin_port);
}

class PostgresBackend : public Backend {
  public:
    PostgresBackend() : owner_(getpid()), port_(free_port()) {
        for (const auto& version : std::filesystem::directory_iterator("/usr/lib/postgresql"))
            if (std::filesystem::exists(version.path() / "bin/initdb")) bin_ = (version.path() / "bin/").string();
        if (bin_.empty()) throw std::runtime_error("no PostgreSQL here: see test_packages in tools/lib/setup.sh");
        // initdb refuses root; Debian's package brings a user for it.
        if (geteuid() == 0) {
            as_user_ = "runuser -u postgres -- ";
            if (shell("chown postgres " + folder_.file("")) != 0) throw std::runtime_error("no user postgres");
        }
        run("initdb -D " + data() + " -A trust -E UTF8 --locale=C.UTF-8 -U graftwright --no-sync");
        run("pg_ctl -D " + data() + " -w -t 120 -l " + folder_.file("log") + " -o '-p " + std::to_string(port_) +
            " -c listen_addresses=127.0.0.1 -c unix_socket_directories= -c fsync=off' start");
    }
    ~PostgresBackend() override {
        if (getpid() == owner_) shell(as_user_ + bin_ + "pg_ctl -D " + data() + " -m immediate -w stop");
    }
    PostgresBackend(const PostgresBackend&) = delete;
    PostgresBackend& operator=(const PostgresBackend&) = delete;

    [[nodiscard]] LogbookPlace fresh() override {
        const std::string name = "logbook_" + std::to_string(++made_);
        run("createdb -h 127.0.0.1 -p " + std::to_string(port_) + " -U graftwright " + name);
        return LogbookPlace::of("postgresql://graftwright@127.0.0.1:" + std::to_string(port_) + "/" + name);
    }

    // The one that serves our connection to this place.
    [[nodiscard]] pid_t process_behind(const LogbookPlace& place) const {
        run("psql -h 127.0.0.1 -p " + std::to_string(port_) + " -U graftwright -A -t -o " + data() + "/process -c \"SELECT pid " +
            "FROM pg_stat_activity WHERE application_name = 'graftwright' AND datname = '" +
            place.parameters().at("dbname") + "'\" postgres");
        pid_t process = 0;
        std::ifstream(data() + "/process") >> process;
        return process;
    }

  private:
    [[nodiscard]] std::string data() const { return folder_.file("data"); }
    void run(const std::string& command) const {
        const std::string whole = as_user_ + bin_ + command;
        if (shell("cd / && " + whole) != 0) throw std::runtime_error("PostgreSQL's part of the tests failed: " + whole);
    }

    TemporaryFolder folder_;
    pid_t owner_;
    int port_;
    std::string bin_, as_user_;
    int made_ = 0;
};

}  // namespace graftwright::test
