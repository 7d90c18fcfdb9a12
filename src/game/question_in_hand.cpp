#include "game/question_in_hand.h"

#include <cmath>
#include <utility>

#include "base/angle.h"
#include "base/check.h"

namespace graftwright {
namespace {

double around(double from_deg, double to_deg) { return std::fmod(to_deg - from_deg + 720.0, 360.0); }

}  // namespace

std::optional<std::size_t> bite_of(const DrillChoice& choice) {
    if (choice.means.bite) return choice.means.bite;
    if (choice.means.retie) return choice.means.retie;
    if (!choice.means.remove.empty()) return choice.means.remove.front();
    return std::nullopt;
}

bool is_place(const DrillChoice& choice) { return choice.means.at_deg || choice.means.add_at_deg; }

QuestionInHand::QuestionInHand(const Scenario& scenario, bool only_first) : question_(drill_question(scenario)) {
    GRAFTWRIGHT_CHECK(!question_.steps.empty(), "a drill that asks");
    if (only_first) question_.steps.resize(1);
    picked_.resize(question_.steps.size());
}

void QuestionInHand::go_round(int sense) {
    const std::vector<DrillChoice>& choices = step().choices;
    const DrillChoice& now = choices[under_hand_];
    if (!bite_of(now) && !is_place(now)) {  // no place: up and down the list
        under_hand_ = (under_hand_ + choices.size() + (sense > 0 ? choices.size() - 1 : 1)) % choices.size();
        return;
    }
    std::optional<std::size_t> best;
    double least = 1e9;
    for (std::size_t c = 0; c < choices.size(); ++c) {
        if (c == under_hand_ || is_place(choices[c]) != is_place(now)) continue;
        const double way = sense > 0 ? around(now.deg, choices[c].deg) : around(choices[c].deg, now.deg);
        if (way < least) {
            least = way;
            best = c;
        }
    }
    under_hand_ = best.value_or(under_hand_);
}

void QuestionInHand::other_sort() {
    const std::vector<DrillChoice>& choices = step().choices;
    const DrillChoice now = choices[under_hand_];
    double least = 1e9;
    for (std::size_t c = 0; c < choices.size(); ++c) {
        if (is_place(choices[c]) == is_place(now)) continue;
        const double apart = apart_deg(choices[c].deg, now.deg);
        if (apart < least) {
            least = apart;
            under_hand_ = c;
        }
    }
}

void QuestionInHand::point_at(Point field, const std::vector<std::optional<Point>>& at) {
    double least = 1e9;
    for (std::size_t c = 0; c < at.size(); ++c) {
        if (!at[c]) continue;
        const double distance = std::hypot(at[c]->x - field.x, at[c]->y - field.y);
        if (distance < least) {
            least = distance;
            under_hand_ = c;
        }
    }
}

void QuestionInHand::choose(bool loosen) {
    const std::vector<DrillChoice>& choices = step().choices;
    for (std::size_t c = 0; c < choices.size(); ++c)
        if (choices[c].means.loosen == loosen) under_hand_ = c;
}

void QuestionInHand::toggle() {
    if (!step().several) return;
    std::vector<std::size_t>& picked = picked_[step_];
    if (std::erase(picked, under_hand_) == 0) picked.push_back(under_hand_);
}

bool QuestionInHand::accept() {
    if (answered()) return true;
    if (!step().several)
        picked_[step_] = {under_hand_};
    else if (picked_[step_].empty())
        return false;
    ++step_;
    under_hand_ = 0;
    return true;
}

bool QuestionInHand::back() {
    if (step_ == 0) return false;
    --step_;
    under_hand_ = picked_[step_].empty() ? 0 : picked_[step_].front();
    return true;
}

QuestionView QuestionInHand::view(const std::vector<std::optional<Point>>& at) const {
    QuestionView view;
    const DrillStep& now = step();
    view.words = now.words;
    view.step = static_cast<int>(std::min(step_, question_.steps.size() - 1)) + 1;
    view.steps = static_cast<int>(question_.steps.size());
    view.several = now.several;
    bool bites = false, places = false;
    for (std::size_t c = 0; c < now.choices.size(); ++c) {
        QuestionView::Choice choice;
        choice.label = now.choices[c].label;
        choice.deg = now.choices[c].deg;
        choice.bite = bite_of(now.choices[c]).has_value();
        if (c < at.size()) choice.at = at[c];
        if (step_ < picked_.size() && now.several)
            choice.picked = std::find(picked_[step_].begin(), picked_[step_].end(), c) != picked_[step_].end();
        bites = bites || choice.bite;
        places = places || is_place(now.choices[c]);
        view.choices.push_back(std::move(choice));
    }
    view.two_sorts = bites && places;
    view.under_hand = under_hand_;
    return view;
}

}  // namespace graftwright
