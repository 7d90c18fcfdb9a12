// The outcome of reading something a person wrote: a value, or every fault found in it.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/check.h"

namespace graftwright {

// One fault of an input file. line counts from 1; 0 means the file as a whole.
struct Fault {
    std::string file;
    int line = 0;
    std::string message;  // what is wrong, what was expected
    std::string place = {};  // of the value, as a JSON pointer into the file; "" where none is known

    // "file:line: message", or "file: message" where no line applies.
    [[nodiscard]] std::string text() const {
        return line > 0 ? file + ":" + std::to_string(line) + ": " + message : file + ": " + message;
    }
};

using Faults = std::vector<Fault>;

template <typename Value>
class [[nodiscard]] Result {
  public:
    Result(Value value) : content_(std::move(value)) {}
    Result(Faults faults) : content_(std::move(faults)) {
        GRAFTWRIGHT_CHECK(!std::get<Faults>(content_).empty(), "a failure needs at least one fault");
    }
    Result(Fault fault) : Result(Faults{std::move(fault)}) {}

    [[nodiscard]] bool ok() const { return std::holds_alternative<Value>(content_); }
    [[nodiscard]] const Value& value() const {
        GRAFTWRIGHT_CHECK(ok(), "value() of a failure");
        return std::get<Value>(content_);
    }
    [[nodiscard]] Value take() {
        GRAFTWRIGHT_CHECK(ok(), "take() of a failure");
        return std::move(std::get<Value>(content_));
    }
    [[nodiscard]] const Faults& faults() const {
        GRAFTWRIGHT_CHECK(!ok(), "faults() of a success");
        return std::get<Faults>(content_);
    }

  private:
    std::variant<Value, Faults> content_;
};

}  // namespace graftwright
