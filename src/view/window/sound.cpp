#include "view/window/sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include <SFML/Audio/Sound.hpp>
#include <SFML/Audio/SoundBuffer.hpp>

#include "base/units.h"

namespace graftwright {
namespace {

constexpr unsigned kRate = 44100;

struct Voice {
    double hz, seconds, decay_s, loudness;
};
// By ear; our choice.
constexpr std::array<Voice, 3> kTones{
    {{2100.0, 0.03, 0.006, 0.10}, {880.0, 0.14, 0.035, 0.25}, {196.0, 0.30, 0.12, 0.30}}};

std::vector<sf::Int16> samples(const Voice& tone) {
    std::vector<sf::Int16> wave(static_cast<std::size_t>(tone.seconds * kRate));
    for (std::size_t i = 0; i < wave.size(); ++i) {
        const double t = static_cast<double>(i) / kRate;
        const double rise = std::min(1.0, t / 0.002);
        wave[i] = static_cast<sf::Int16>(32000.0 * tone.loudness * rise * std::exp(-t / tone.decay_s) *
                                         std::sin(2.0 * kPi * tone.hz * t));
    }
    return wave;
}

// The audio library complains and hangs on where there is nothing to play on; it is told so beforehand.
bool device_here() {
    namespace fs = std::filesystem;
    std::error_code none;
    const char* runtime = std::getenv("XDG_RUNTIME_DIR");  // NOLINT(concurrency-mt-unsafe): before any thread
    const bool pulse = runtime != nullptr && fs::exists(std::string(runtime) + "/pulse/native", none);
    const bool node = fs::exists("/dev/snd", none) && !fs::is_empty("/dev/snd", none);
    return pulse || node;
}

}  // namespace

struct Sound::Voices {
    std::array<sf::SoundBuffer, kTones.size()> buffers;
    std::array<sf::Sound, kTones.size()> sounds;
};

Sound::Sound() : available_(device_here()) {
    if (!available_) setenv("ALSOFT_DRIVERS", "null", 0);  // NOLINT(concurrency-mt-unsafe): before any thread
    voices_ = std::make_unique<Voices>();
    for (std::size_t i = 0; i < kTones.size(); ++i) {
        const std::vector<sf::Int16> wave = samples(kTones[i]);
        if (!voices_->buffers[i].loadFromSamples(wave.data(), wave.size(), 1, kRate)) available_ = false;
        voices_->sounds[i].setBuffer(voices_->buffers[i]);
    }
}
Sound::~Sound() = default;

void Sound::play(Cue cue) {
    if (on_ && available_) voices_->sounds[static_cast<std::size_t>(cue)].play();
}

}  // namespace graftwright
