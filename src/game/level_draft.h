// A level in the making: what the form holds, where it lies, whether it is kept.
//
// Its text is files/writer's, its faults are the reader's: what `check` says of the file is what the form
// says. A draft is saved into the user's own folder only, never over a level that it was not opened from nor
// over a file that has changed since.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "files/fields.h"
#include "game/levels.h"

namespace graftwright {

struct LevelDraft {
    ScenarioForm form;
    std::string path;         // its own file; "" where it has none yet
    std::string opened_text;  // as it was opened or last saved
    std::string file_text;    // what lay in `path` then

    [[nodiscard]] std::string text() const { return write_form(form); }
    [[nodiscard]] bool changed() const { return text() != opened_text; }
};

// With an id and a place in the course that no level has.
[[nodiscard]] LevelDraft new_level(const std::vector<Level>& levels);
[[nodiscard]] LevelDraft copy_of_level(const Scenario& scenario, const std::vector<Level>& levels);
// One of the user's own, broken ones too where the form can hold them.
[[nodiscard]] Result<LevelDraft> open_level(const std::string& path);
// A draft that was left unsaved: it counts as changed.
[[nodiscard]] Result<LevelDraft> take_up_unsaved(const std::string& path);

// As `check` reads the draft's file.
[[nodiscard]] Result<Scenario> checked(const LevelDraft& draft);

// Into <folder>/<id>.json; the path, or why not. Faults elsewhere than in the id don't hinder it: the file
// then says what is typed, and is listed as broken.
[[nodiscard]] Result<std::string> save_level(LevelDraft& draft, const std::string& folder,
                                             const std::vector<Level>& levels);

// What lies in the eye at the start. An even ring is what a hand without error would lay, in tying order;
// it takes the place of all single bites that were there. Running threads stay as they stand in the file.
void start_with_even_ring(LevelDraft& draft, int bites);
void add_start_bite(LevelDraft& draft);  // in the widest gap, like the last one
void remove_start_bite(LevelDraft& draft, std::size_t bite);

}  // namespace graftwright
