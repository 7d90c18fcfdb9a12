#include "logbook/limited_session.h"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <fcntl.h>
#include <future>
#include <mutex>
#include <optional>
#include <thread>
#include <unistd.h>

#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <sys/socket.h>

namespace graftwright {

using Clock = std::chrono::steady_clock;

// A thread that sleeps but for the moment at which an answer is overdue.
class AnswerWatch {
  public:
    explicit AnswerWatch(std::chrono::seconds limit) : limit_(limit), thread_([this] { watch(); }) {}
    ~AnswerWatch() {
        {
            const std::lock_guard lock(mutex_);
            ended_ = true;
            changed_.notify_one();
        }
        thread_.join();
        if (socket_ >= 0) close(socket_);
    }
    AnswerWatch(const AnswerWatch&) = delete;
    AnswerWatch& operator=(const AnswerWatch&) = delete;

    // A descriptor of our own for the connection: the library may close its own at any time.
    void stand_beside(int socket) { socket_ = fcntl(socket, F_DUPFD_CLOEXEC, 0); }
    [[nodiscard]] bool given_up() const { return given_up_; }

    class Waiting {
      public:
        explicit Waiting(AnswerWatch& watch) : watch_(watch) { watch_.expect(Clock::now() + watch_.limit_); }
        ~Waiting() { watch_.expect(std::nullopt); }
        Waiting(const Waiting&) = delete;
        Waiting& operator=(const Waiting&) = delete;

      private:
        AnswerWatch& watch_;
    };

  private:
    void expect(std::optional<Clock::time_point> by) {
        const std::lock_guard lock(mutex_);
        due_ = by;
        // Where it only moves on, the thread finds out when it wakes for the moment before: no wake-up a statement.
        if (due_ && !asleep_until_) changed_.notify_one();
    }
    void watch() {
        std::unique_lock lock(mutex_);
        while (!ended_) {
            if (due_ && Clock::now() >= *due_) {
                given_up_ = true;
                shutdown(socket_, SHUT_RDWR);
                due_.reset();
            }
            asleep_until_ = due_;
            if (asleep_until_)
                changed_.wait_until(lock, *asleep_until_);
            else
                changed_.wait(lock);
            asleep_until_.reset();
        }
    }

    std::chrono::seconds limit_;
    int socket_ = -1;
    std::atomic<bool> given_up_ = false;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::optional<Clock::time_point> due_, asleep_until_;
    bool ended_ = false;
    std::thread thread_;
};

bool has_given_up(const AnswerWatch& watch) { return watch.given_up(); }

namespace {

// The library's own statement and session, each call that may wait for the server under watch. (They can't be
// derived from: the library keeps their members to itself.)
class WatchedStatement : public soci::details::statement_backend {
  public:
    WatchedStatement(soci::details::statement_backend* inner, AnswerWatch& watch) : watch_(watch), inner_(inner) {}
    ~WatchedStatement() override {
        const AnswerWatch::Waiting waiting(watch_);  // a prepared statement is given back
        inner_.reset();
    }
    WatchedStatement(const WatchedStatement&) = delete;
    WatchedStatement& operator=(const WatchedStatement&) = delete;

    void alloc() override { inner_->alloc(); }
    void clean_up() override {
        const AnswerWatch::Waiting waiting(watch_);
        inner_->clean_up();
    }
    void prepare(const std::string& query, soci::details::statement_type type) override {
        const AnswerWatch::Waiting waiting(watch_);
        inner_->prepare(query, type);
    }
    exec_fetch_result execute(int number) override {
        const AnswerWatch::Waiting waiting(watch_);
        return inner_->execute(number);
    }
    exec_fetch_result fetch(int number) override {
        const AnswerWatch::Waiting waiting(watch_);
        return inner_->fetch(number);
    }
    long long get_affected_rows() override { return inner_->get_affected_rows(); }
    int get_number_of_rows() override { return inner_->get_number_of_rows(); }
    std::string get_parameter_name(int index) const override { return inner_->get_parameter_name(index); }
    std::string rewrite_for_procedure_call(const std::string& query) override {
        return inner_->rewrite_for_procedure_call(query);
    }
    int prepare_for_describe() override {
        const AnswerWatch::Waiting waiting(watch_);
        return inner_->prepare_for_describe();
    }
    void describe_column(int column, soci::data_type& type, std::string& name) override {
        inner_->describe_column(column, type, name);
    }
    soci::details::standard_into_type_backend* make_into_type_backend() override {
        return inner_->make_into_type_backend();
    }
    soci::details::standard_use_type_backend* make_use_type_backend() override {
        return inner_->make_use_type_backend();
    }
    soci::details::vector_into_type_backend* make_vector_into_type_backend() override {
        return inner_->make_vector_into_type_backend();
    }
    soci::details::vector_use_type_backend* make_vector_use_type_backend() override {
        return inner_->make_vector_use_type_backend();
    }

  private:
    AnswerWatch& watch_;
    std::unique_ptr<soci::details::statement_backend> inner_;
};

class WatchedSession : public soci::details::session_backend {
  public:
    WatchedSession(soci::postgresql_session_backend* inner, std::shared_ptr<AnswerWatch> watch)
        : watch_(std::move(watch)), inner_(inner) {
        watch_->stand_beside(PQsocket(inner_->conn_));
    }
    ~WatchedSession() override {
        const AnswerWatch::Waiting waiting(*watch_);  // it says good-bye
        inner_.reset();
    }
    WatchedSession(const WatchedSession&) = delete;
    WatchedSession& operator=(const WatchedSession&) = delete;

    bool is_connected() override {
        const AnswerWatch::Waiting waiting(*watch_);
        return base().is_connected();
    }
    void begin() override {
        const AnswerWatch::Waiting waiting(*watch_);
        base().begin();
    }
    void commit() override {
        const AnswerWatch::Waiting waiting(*watch_);
        base().commit();
    }
    void rollback() override {
        const AnswerWatch::Waiting waiting(*watch_);
        base().rollback();
    }
    std::string get_dummy_from_table() const override { return base().get_dummy_from_table(); }
    std::string get_backend_name() const override { return base().get_backend_name(); }
    soci::details::statement_backend* make_statement_backend() override {
        return new WatchedStatement(base().make_statement_backend(), *watch_);
    }
    soci::details::rowid_backend* make_rowid_backend() override { return base().make_rowid_backend(); }
    soci::details::blob_backend* make_blob_backend() override { return base().make_blob_backend(); }

  private:
    // By way of the base class, whose calls are found at run time.
    [[nodiscard]] soci::details::session_backend& base() const { return *inner_; }

    std::shared_ptr<AnswerWatch> watch_;
    std::unique_ptr<soci::postgresql_session_backend> inner_;
};

class WatchedFactory : public soci::backend_factory {
  public:
    explicit WatchedFactory(std::shared_ptr<AnswerWatch> watch) : watch_(std::move(watch)) {}
    soci::details::session_backend* make_session(const soci::connection_parameters& parameters) const override {
        auto* const inner = soci::factory_postgresql()->make_session(parameters);
        return new WatchedSession(static_cast<soci::postgresql_session_backend*>(inner), watch_);
    }

  private:
    std::shared_ptr<AnswerWatch> watch_;
};

}  // namespace

LimitedSession open_limited(const std::string& connection, int open_s, int answer_s) {
    std::packaged_task<LimitedSession()> task([connection, answer_s] {
        LimitedSession opened;
        opened.watch = std::make_shared<AnswerWatch>(std::chrono::seconds(answer_s));
        const WatchedFactory factory(opened.watch);
        opened.session = std::make_unique<soci::session>(factory, connection);
        return opened;
    });
    std::future<LimitedSession> opened = task.get_future();
    std::thread(std::move(task)).detach();
    if (opened.wait_for(std::chrono::seconds(open_s)) == std::future_status::timeout) throw NoAnswer(open_s);
    return opened.get();
}

}  // namespace graftwright
