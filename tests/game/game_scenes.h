// Games to test with: a level of the shipped kind, played in line.
#pragma once

#include <memory>
#include <string>

#include "../scenes/robot_hand.h"
#include "files/reader.h"
#include "game/game.h"

namespace graftwright::scenes {

inline Scenario sixteen(int bites) {
    const std::string path = std::string(GRAFTWRIGHT_SOURCE_DIR) + "/levels/sixteen.json";
    Scenario scenario = read_scenario(read_text_file(path).value(), path).value();
    scenario.task.bites = bites;
    return scenario;
}

// Condensing takes longer than playing: one model serves all tests.
inline std::shared_ptr<const ScenarioModel> shared_model() {
    static const auto model = std::make_shared<const ScenarioModel>(sixteen(16));
    return model;
}

inline std::shared_ptr<HeldFile> held_journal(const std::string& path) {
    return std::make_shared<HeldFile>(path, HeldFile::Open::or_make);
}

inline Game new_game(const std::string& journal = "", std::unique_ptr<WoundService> service = nullptr) {
    GameOptions options;
    options.started = "2026-01-01T10:00:00Z";
    if (!journal.empty()) options.journal = held_journal(journal);
    return Game(shared_model(), service ? std::move(service) : make_inline_service(shared_model()), options);
}

// The first `count` bites of the usual order, each as `meant` says; `change` may alter one by its number.
template <typename Change>
void play_bites(Game& game, int count, const MeantBite& meant, Change change, Device device = Device::keyboard) {
    RobotHand hand(game, device);
    const std::vector<double> order = tying_order_deg(count);
    for (std::size_t i = 0; i < order.size(); ++i) {
        MeantBite bite = meant;
        bite.at_deg = order[i];
        change(i, bite);
        hand.bite(bite);
    }
}
inline void play_bites(Game& game, int count, const MeantBite& meant = {}, Device device = Device::keyboard) {
    play_bites(game, count, meant, [](std::size_t, MeantBite&) {}, device);
}

}  // namespace graftwright::scenes
