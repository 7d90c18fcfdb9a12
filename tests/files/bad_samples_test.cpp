// Every bad sample file of tests/data, named by its defect, with the very lines and words it gets.
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "files/reader.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::kData;
using graftwright::test::kLevels;
using graftwright::test::lines_of;

namespace {

struct Sample {
    const char* name;
    std::vector<std::string> faults;
};

void require_faults(const std::vector<Sample>& samples) {
    for (const Sample& sample : samples) {
        INFO(sample.name);
        const Faults faults = check_file(kData + "/" + sample.name + ".json", kLevels);
        CHECK(lines_of(faults) == sample.faults);
        for (const Fault& fault : faults) CHECK(fault.file == kData + "/" + sample.name + ".json");
    }
}

const std::string kBroken =
    "the file breaks off here, expected the rest of it: a value, a quote or a closing bracket is "
    "missing";
const std::string kApart = " lie at one place, expected 0.5° or more between them at the donor's or the host's edge";
const std::string kFormats =
    ", expected \"graftwright-scenario\", \"graftwright-attempt\", \"graftwright-ring\" or \"graftwright-hand\"";
const std::string kId = "1 to 64 of a-z, 0-9, - and _, a letter or digit first";

}  // namespace

TEST_CASE("bad samples: text that is not JSON is refused at its line", "[files][bad-input]") {
    require_faults({
        {"empty", {"1: the file is empty, expected one JSON object"}},
        {"only_spaces", {"1: the file is empty, expected one JSON object"}},
        {"truncated", {"9: " + kBroken}},
        {"truncated_in_key", {"6: " + kBroken}},
        {"nan_tension", {"7: NaN is no number, expected a finite number"}},
        {"infinite_tension", {"7: -Infinity is no number, expected a finite number"}},
        {"huge_number", {"7: 1e999 is too large for a number, expected a finite number"}},
        {"duplicate_key", {"7: key \"tension_mN\" stands twice in one object (first on line 7), expected it once"}},
        {"trailing_comma", {"10: a comma before \"]\", expected none after the last entry"}},
        {"comment", {"3: a comment, expected none: JSON has no comments"}},
        {"second_object", {"12: unexpected \"{\", expected nothing after the end of the outermost object"}},
        {"not_utf8", {"4: a byte that is not UTF-8 text, expected a file saved as UTF-8"}},
        {"byte_outside_a_text", {"5: a byte that is not UTF-8 text, expected a file saved as UTF-8"}},
        {"nul_then_garbage", {"26: a NUL byte, expected text only"}},
        {"top_level_list", {"1: the outermost value is no object, expected one JSON object in { }"}},
    });
}

TEST_CASE("bad samples: a hostile file meets a limit, not the end of the stack", "[files][bad-input]") {
    require_faults({
        {"deep_nesting", {"1: brackets nested more than 32 deep, expected far fewer"}},
        {"deep_objects", {"1: brackets nested more than 32 deep, expected far fewer"}},
        {"too_many_entries", {"1006: more than 1000 entries in one list or object, expected far fewer"}},
    });
}

TEST_CASE("bad samples: a wrong kind or version of file is named", "[files][bad-input]") {
    require_faults({
        {"wrong_version", {"3: version is 2, expected 1, the one that this program reads"}},
        {"wrong_format", {"2: format is \"graftwright-plan\"" + kFormats}},
        {"no_format", {"1: key \"format\" is missing" + kFormats}},
        {"id_missing", {"1: key \"id\" is missing, expected " + kId}},
        {"id_with_slash", {"4: id is \"../etc\", expected " + kId}},
    });
}

TEST_CASE("bad samples: a value out of its range or type says what was expected", "[files][bad-input]") {
    require_faults({
        {"text_for_number", {"8: bite 3: tension_mN is \"15\", expected a number from 0 to 1000"}},
        {"null_tension", {"8: bite 3: tension_mN is null, expected a number from 0 to 1000"}},
        {"negative_tension", {"9: bite 4: tension_mN is -1, expected a number from 0 to 1000"}},
        {"negative_thickness", {"6: eye.rim_thickness_um is -620, expected a number from 200 to 1500"}},
        {"null_radius", {"5: eye.anterior_radius_mm is null, expected a number from 6 to 10"}},
        {"flat_entry", {"7: bite 2: graft_entry_deg is 0, expected a number above 0 and up to 90"}},
        {"bad_throws", {"7: bite 2: throws is \"three\", expected turns of 1 to 8 throws such as \"3-1-1\""}},
        {"question_without_closure",
         {"5: kind asks a question about a closure, expected start.bites with at least 3 bites in place and no "
          "start.runs"}},
        {"marks_crossed",
         {"6: pass.least_depth_fraction is 0.95, expected less than most_depth_fraction, 0.9",
          "7: pass.least_bite_mm is 1.2, expected less than most_bite_mm, 1.2"}},
        {"half_a_trauma", {"5: pass.trauma_count is 0.5, expected a whole number from 0 to 1000 or null"}},
        {"unknown_kind",
         {"5: kind is \"clousure\", expected one of closure, depth, radial, opposite, tension, "
          "read-rings, find-leak, remove"}},
        {"unknown_aid",
         {"5: task.hand.aids[1] is \"magic\", expected one of clock, depth, tension, rings, "
          "numbers, "
          "twin, undo"}},
        {"half_a_bite", {"5: task.bites is 15.5, expected a whole number from 1 to 64"}},
        {"shift_of_three", {"5: eye.bed_shift_mm holds a list of 3, expected a list of 2 in [ ]"}},
        {"bad_event",
         {"13: event 2: t_s is -1, expected a number from 0 to 86400",
          "14: event 3: key \"t_s\" is missing, expected a number from 0 to 86400"}},
    });
}

TEST_CASE("bad samples: a scripted hand plays for two hours at most", "[files][bad-input]") {
    require_faults({{"hand_of_a_day", {"1: event 2: t_s is 86400, expected a number from 0 to 7200"}}});
}

TEST_CASE("bad samples: an unknown key is named, with the key that was perhaps meant", "[files][bad-input]") {
    require_faults({
        {"unknown_key", {"8: bite 3: unknown key \"tenson_mN\", expected perhaps \"tension_mN\""}},
        {"unknown_key_anywhere",
         {"11: unknown key \"surgeon\", expected one of bites, events, events_version, format, "
          "runs, "
          "scenario, started, trainee, version"}},
    });
}

TEST_CASE("bad samples: too few or too many bites are counted", "[files][bad-input]") {
    require_faults({
        {"zero_bites", {"5: 0 bites in all, expected 1 to 64 (bites of runs count)"}},
        {"no_bites_key", {"1: neither key \"bites\" nor \"runs\" is there, expected one of them"}},
        {"sixty_five_bites", {"5: bites holds a list of 65, expected a list of at most 64 entries in [ ]"}},
        {"sixty_five_with_run", {"5: 65 bites in all, expected 1 to 64 (bites of runs count)"}},
        {"empty_run", {"5: run 1: bites holds a list of 0, expected a list of 1 to 64 entries in [ ]"}},
    });
}

TEST_CASE("bad samples: what the eye or the thread can't hold is refused", "[files][bad-input]") {
    require_faults({
        {"two_bites_at_one_place", {"12: bites 3 and 7" + kApart}},
        {"depth_beyond_thickness",
         {"7: bite 2: graft_depth_um is 551, expected at most the donor's thickness, 550 µm",
          "7: bite 2: host_depth_um is 620.5, expected at most the rim's thickness, 620 µm"}},
        {"tension_beyond_breaking",
         {"9: bite 4: tension_mN is 190.5, expected at most the thread's breaking load, 190 mN"}},
        {"bite_beyond_limbus",
         {"6: bite 1: host_bite_mm is 2.95, expected at most the rim's width to the limbus at this "
          "place, 2.72 mm"}},
        {"start_too_deep", {"6: start, bite 1: host_depth_um is 800, expected at most the rim's thickness, 620 µm"}},
    });
}

TEST_CASE("bad samples: an eye that makes no sense is refused", "[files][bad-input]") {
    require_faults({
        {"bed_beyond_limbus",
         {"5: eye.bed_diameter_mm is 10, expected a bed at least 0.5 mm inside the limbus all "
          "round "
          "(limbus_diameter_mm 10.5)"}},
        {"bed_off_the_cornea",
         {"6: eye.bed_shift_mm moves the bed by 2.12 mm, expected a bed at least 0.5 mm inside the "
          "limbus all round: a shift of at most 1.53 mm"}},
        {"limbus_beyond_sphere",
         {"6: eye.limbus_diameter_mm is 13, expected at most 11.76 on a sphere of this "
          "anterior_radius_mm"}},
        {"donor_too_small", {"6: graft.diameter_mm is 6.5, expected within 1 mm of the bed's 7.75 mm"}},
    });
}

TEST_CASE("bad samples: all faults of a file come at once, in the order of its lines", "[files][bad-input]") {
    require_faults({{"many_faults",
                     {"6: bite 1: tension_mN is -1, expected a number from 0 to 1000",
                      "7: bite 2: unknown key \"hots_deg\", expected perhaps \"host_deg\"", "8: bites 1 and 3" + kApart,
                      "8: bite 3: graft_depth_um is 700, expected at most the donor's thickness, 550 µm",
                      "9: bite 4: graft_deg is 1000, expected a number from -360 to 720",
                      "9: bite 4: host_deg is 1000, expected a number from -360 to 720",
                      "11: started is 5, expected a text of at most 40 characters in \" quotes"}}});
}

TEST_CASE("bad samples: a ring case leans on no default", "[files][bad-input]") {
    require_faults({
        {"good_ring", {}},
        {"ring_without_nu", {"1: key \"nu\" is missing, expected a number from 0 to 0.495"}},
        {"ring_wound_at_limbus", {"7: wound_r_mm is 5.8, expected at least 0.5 mm inside the limbus"}},
        {"ring_bites",
         {"19: bite 4: host_mm is 2.6, expected at most 2.39 in this ring", "21: bites 1 and 6" + kApart}},
    });
}
