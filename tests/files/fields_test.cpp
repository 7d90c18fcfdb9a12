// A scenario as a form holds it: places, facts, entries that are no numbers.
#include "files/fields.h"

#include <catch2/catch.hpp>

#include "any_scenario.h"
#include "files/reader.h"
#include "files/writer.h"
#include "shared.h"

using namespace graftwright;
using graftwright::test::any_scenario;
using graftwright::test::kLevels;

namespace {

Field field_at(Scenario& scenario, const std::string& object, const std::string& key) {
    for (Field& field : fields_of(scenario, object))
        if (field.place == object + "/" + key) return field;
    FAIL("no field " << object << "/" << key);
    return {};
}

// Every number's own words entered again.
void enter_all_again(ScenarioForm& form) {
    std::vector<std::string> objects{"", "/eye", "/graft", "/thread", "/task", "/task/hand", "/pass"};
    for (std::size_t b = 0; b < form.scenario.start.bites.size(); ++b)
        objects.push_back("/start/bites/" + std::to_string(b));
    for (const std::string& object : objects)
        for (const Field& field : fields_of(form.scenario, object)) {
            const std::string entry = entry_of(form, field);
            if (field_facts(field.place).number && !entry.empty()) enter(form, field, entry);
            if (const auto* choice = std::get_if<Choice>(&field.member)) choice->choose(choice->chosen());
        }
}

}  // namespace

TEST_CASE("fields: unit, range, default and reason are the schema's", "[files][form]") {
    const FieldFacts& bed = field_facts("/eye/bed_diameter_mm");
    CHECK(bed.title == "Bed diameter");
    CHECK(bed.unit == "mm");
    CHECK(bed.range == "4 to 10.5");
    CHECK(bed.default_words == "7.75");
    CHECK(bed.why.find("trephines") != std::string::npos);
    CHECK(field_facts("/pass/cylinder_D").range == "above 0 to 100");
    CHECK(field_facts("/pass/hoa_rms_um").default_words == "none");
    CHECK(field_facts("/start/bites/7/host_deg").unit == "°");
    CHECK(field_facts("/eye/bed_shift_mm/1").range == "-2 to 2");
    CHECK(field_facts("/kind").choices.size() == 8);
    CHECK(field_facts("/task/hand/aids").choices.size() == 7);
    CHECK(field_facts("/task/bites").whole);
}

TEST_CASE("fields: every number's own words, entered again, change nothing", "[files][form][property]") {
    CHECK(rc::check("entered again, a form is the same to the bit", [] {
        const ScenarioForm form{any_scenario(), {}};
        ScenarioForm again = form;
        enter_all_again(again);
        RC_ASSERT(again == form);
        const Result<ScenarioForm> read = read_form(write_form(form), "any.json");
        RC_ASSERT(read.ok());
        RC_ASSERT(read.value() == form);
        RC_ASSERT(write_form(form) == write_scenario(form.scenario));
    }));
}

TEST_CASE("fields: what is no number is kept as typed, and the reader says what is wrong with it", "[files][form]") {
    ScenarioForm form;
    form.scenario.id = "x";
    enter(form, field_at(form.scenario, "/eye", "bed_diameter_mm"), "7,75");
    enter(form, field_at(form.scenario, "/task", "bites"), "2.5");
    enter(form, field_at(form.scenario, "/pass", "cylinder_D"), "");
    const Result<Scenario> read = read_scenario(write_form(form), "x.json");
    REQUIRE_FALSE(read.ok());
    REQUIRE(read.faults().size() == 3);
    CHECK(read.faults()[0].message == "eye.bed_diameter_mm is \"7,75\", expected a number from 4 to 10.5");
    CHECK(read.faults()[0].place == "/eye/bed_diameter_mm");
    CHECK(read.faults()[1].message == "task.bites is 2.5, expected a whole number from 1 to 64");
    CHECK(read.faults()[2].place == "/pass/cylinder_D");

    const Result<ScenarioForm> taken = read_form(write_form(form), "x.json");
    REQUIRE(taken.ok());
    CHECK(taken.value().typed == form.typed);
    CHECK(write_form(taken.value()) == write_form(form));

    enter(form, field_at(form.scenario, "/eye", "bed_diameter_mm"), " 7.5 ");
    enter(form, field_at(form.scenario, "/task", "bites"), "8");
    enter(form, field_at(form.scenario, "/pass", "cylinder_D"), "1e0");
    CHECK(form.typed.empty());
    CHECK(form.scenario.eye.bed_diameter_mm == 7.5);
    CHECK(form.scenario.task.bites == 8);
    CHECK(form.scenario.pass.cylinder_D == 1.0);
}

TEST_CASE("fields: only a finite number is a number", "[files][form]") {
    CHECK(number_in("-0.25") == -0.25);
    for (const char* entry : {"", " ", "nan", "inf", "1e999", "7,75", "7.75 mm", "0x10"}) {
        INFO(entry);
        CHECK_FALSE(number_in(entry));
    }
}

TEST_CASE("fields: a faulty file is taken into the form only where nothing of it would be lost", "[files][form]") {
    const std::string head = R"({"format":"graftwright-scenario","version":1,"id":"x",)";
    for (const char* kept : {R"("eye":{"bed_diameter_mm":99}})", R"("eye":{"bed_ovality_axis_deg":9999}})",
                             R"("order":1.5})", R"("start":{"bites":[{"tension_mN":"tight"}]}})"}) {
        INFO(kept);
        CHECK_FALSE(read_scenario(head + kept, "x.json").ok());
        CHECK(read_form(head + kept, "x.json").ok());
    }
    for (const char* lost : {R"("eyes":{}})", R"("kind":"riddle"})", R"("eye":[]})", R"("teaches":[1]})"}) {
        INFO(lost);
        const Result<ScenarioForm> read = read_form(head + lost, "x.json");
        REQUIRE_FALSE(read.ok());
        CHECK(read.faults().back().message.find("text editor") != std::string::npos);
    }
}
