// Light sounds, made at the start and optional: a tick for the needle, a click for a lock, a low warning.
//
// Without a device everything stays silent and nothing fails.
#pragma once

#include <memory>

namespace graftwright {

enum class Cue { tick, lock, warn };

class Sound {
  public:
    Sound();
    ~Sound();
    void play(Cue cue);
    void set_on(bool on) { on_ = on; }
    [[nodiscard]] bool available() const { return available_; }

  private:
    struct Voices;
    std::unique_ptr<Voices> voices_;
    bool on_ = true, available_ = false;
};

}  // namespace graftwright
