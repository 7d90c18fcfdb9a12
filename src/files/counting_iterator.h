// Reads a text for the JSON library and knows the line it has come to. Private to this room.
//
// The library copies its iterators, so the count lives outside. Its lexer reads one character past
// a number to see where it ends; line_of_number() takes a line end read that way back.
#pragma once

#include <cstddef>
#include <iterator>

namespace graftwright {

struct LineCount {
    int line = 1;
    bool just_ended = false;  // the last character read was a line end

    [[nodiscard]] int line_of_number() const { return just_ended ? line - 1 : line; }
};

class CountingIterator {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator(const char* at, LineCount* count) : at_(at), count_(count) {}

    reference operator*() const { return *at_; }
    CountingIterator& operator++() {
        count_->just_ended = *at_ == '\n';
        if (count_->just_ended) ++count_->line;
        ++at_;
        return *this;
    }
    CountingIterator operator++(int) {
        const CountingIterator before = *this;
        ++*this;
        return before;
    }
    friend bool operator==(const CountingIterator& a, const CountingIterator& b) { return a.at_ == b.at_; }
    friend bool operator!=(const CountingIterator& a, const CountingIterator& b) { return !(a == b); }

  private:
    const char* at_;
    LineCount* count_;
};

}  // namespace graftwright
