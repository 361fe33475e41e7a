// SPDX-License-Identifier: Apache-2.0
// loamway tags: how the tags of one road or node are read
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "command.h"
#include "console.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/profile/machine.h"
#include "loamway/tags/explain.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t largest_profile = std::size_t{1} << 20;

struct TagFlags {
    std::vector<std::string> tags;
    std::string machine, state;
    bool json = false;
};

/// Who would use the road: the machine named, or one that is assumed and said to be.
struct Users {
    std::string machine_name = "assumed tracked machine";
    VehicleView machine, truck;
};

WorkingState assumed_state() {
    WorkingState s;
    s.name = "bare";
    s.mass = Mass::from_tonnes(18);
    s.axles = {s.mass};
    s.tracked = {true};
    s.width = Length::from_metres(3.0);
    s.height = Length::from_metres(3.4);
    s.length = Length::from_metres(7.0);
    return s;
}

Users users_of(const TagFlags& flags) {
    Users out;
    Machine machine;
    machine.top = Speed::from_kmh(40);
    machine.states = {assumed_state()};
    if (!flags.machine.empty()) {
        machine = read_machine(parse_document(read_text_file(flags.machine, largest_profile), flags.machine,
                                              DocumentKind::machine),
                               flags.machine);
        out.machine_name = machine.name;
    } else if (!flags.state.empty()) {
        throw Error(ErrorKind::input, "--state needs --machine", "a state is one of a machine profile's");
    }
    const WorkingState& state = machine.state(flags.state);
    out.machine = machine.vehicle(state);
    out.truck = LowBed{}.vehicle_loaded(state);
    return out;
}

TagView view_of(const std::vector<std::string>& texts) {
    TagView view;
    for (const std::string& text : texts) {
        const auto equals = text.find('=');
        if (equals == 0 || equals == std::string::npos)
            throw Error(ErrorKind::input, fmt::format("\"{}\" is not KEY=VALUE", printable(text)),
                        "for example surface=gravel");
        const std::string_view key = std::string_view(text).substr(0, equals);
        if (view.has(key))
            throw Error(ErrorKind::input, fmt::format("the key {} is there twice", printable(key)),
                        "name it once");
        view.add(key, std::string_view(text).substr(equals + 1));
    }
    return view;
}

// ---- text

std::string vehicle_words(const VehicleView& v) {
    return fmt::format("{:.1f} t, {:.2f} m wide, {:.2f} m high, {:.1f} m long, {:.0f} km/h", v.mass.tonnes(),
                       v.width.metres(), v.height.metres(), v.length.metres(), v.top_speed.kmh());
}

std::string direction_text(std::string_view name, const DirectionExplanation& d) {
    std::string out =
        fmt::format("    {:<9} {}; access {}", name, name_of(d.passage), name_of(d.access.passage));
    if (!d.access.reason.empty())
        out += fmt::format(" ({})", printable(d.access.reason));
    if (d.access.ends_only)
        out += ", only as start or end of a move";
    if (d.speed)
        out += fmt::format(", {:.0f} km/h", d.speed->kmh());
    out += "\n";
    for (const std::string& flag : d.access.flags)
        out += fmt::format("              {}\n", printable(flag));
    for (const LimitFinding& f : d.limits)
        out += fmt::format("              {}: {}\n", name_of(f.passage), printable(f.text));
    return out;
}

std::string user_text(const std::string& name, const VehicleView& view, const VehicleExplanation& e) {
    std::string out = fmt::format("  {} ({})\n", printable(name), vehicle_words(view));
    out += direction_text("forward", e.forward);
    out += direction_text("backward", e.backward);
    if (e.oneway != OneWay::both)
        out += fmt::format("    one-way   {}\n", name_of(e.oneway));
    if (e.barrier)
        out += fmt::format("    barrier   {}{}{}\n", name_of(e.barrier->state),
                           e.barrier->flags.empty() ? "" : ": ", fmt::join(e.barrier->flags, ", "));
    if (e.restriction)
        out += fmt::format("    turn rule {}: {}\n", printable(e.restriction->kind),
                           e.restriction->check     ? "check"
                           : e.restriction->applies ? "applies"
                                                    : "does not apply");
    return out;
}

std::string surface_text(const SurfaceReading& s) {
    std::string out =
        fmt::format("{}, {}: {}", s.likeliest == SurfaceClass::hard ? "paved" : name_of(s.likeliest),
                    s.known ? "known" : "assumed", printable(s.reason));
    if (!s.known)
        out += fmt::format("; paved {:.1f} %, gravel {:.1f} %, earth {:.1f} %", s.odds.hard / 2.0,
                           s.odds.gravel / 2.0, s.odds.earth / 2.0);
    for (const std::string& flag : s.flags)
        out += fmt::format("; {}", printable(flag));
    return out;
}

std::string number_text(const NumberExplanation& n) {
    std::string out = fmt::format("  {} \"{}\" is read as {}", n.key, n.raw, name_of(n.reading.kind));
    if (n.reading.value)
        out += fmt::format(" {:g} {}", *n.reading.value, n.unit);
    if (n.reading.hint)
        out += fmt::format(" (a number in it: {:g})", *n.reading.hint);
    for (const std::string& warning : n.reading.warnings)
        out += fmt::format("; {}", printable(warning));
    return out + "\n";
}

std::string explanation_text(const TagExplanation& e, const Users& users) {
    std::string out =
        fmt::format("  {}\n", e.drivable ? "a road that a plan may use" : "not a road a plan may use");
    const std::string outside = surface_text(e.surface);
    const std::string inside = surface_text(e.surface_built_up);
    out += fmt::format("  surface      {}\n", outside);
    if (inside != outside)
        out += fmt::format("  built-up     {}\n", inside);
    for (const auto& [there, word] :
         {std::pair{e.bridge, "bridge"}, std::pair{e.tunnel, "tunnel"}, std::pair{e.ford, "ford"},
          std::pair{e.level_crossing, "level crossing"}})
        if (there)
            out += fmt::format("  {}\n", word);
    out += user_text(users.machine_name, users.machine, e.machine);
    out += user_text("assumed low-bed, loaded with it", users.truck, e.truck);
    for (const NumberExplanation& n : e.numbers)
        out += number_text(n);
    for (const std::string& note : e.notes)
        out += fmt::format("  {}\n", printable(note));
    for (const std::string& key : e.unread)
        out += fmt::format("  {}: no rule looks at it\n", printable(key));
    return out + "  What tags say is no permission: the local code and the road authority decide.\n";
}

// ---- JSON

Value texts_json(const std::vector<std::string>& list) {
    return Value::Array(list.begin(), list.end());
}

Value direction_json(const DirectionExplanation& d) {
    Value::Array limits;
    for (const LimitFinding& f : d.limits)
        limits.push_back(
            Value::Object{{"key", f.key}, {"passage", Value(name_of(f.passage))}, {"text", f.text}});
    return Value::Object{{"passage", Value(name_of(d.passage))},
                         {"reason", d.access.reason},
                         {"ends_only", d.access.ends_only},
                         {"flags", texts_json(d.access.flags)},
                         {"limits", limits},
                         {"speed_kmh", d.speed ? Value(std::round(d.speed->kmh() * 10) / 10) : Value()}};
}

Value user_json(const VehicleExplanation& e) {
    Value out;
    out.set("forward", direction_json(e.forward));
    out.set("backward", direction_json(e.backward));
    out.set("oneway", Value(name_of(e.oneway)));
    out.set("barrier", e.barrier ? Value(Value::Object{{"state", Value(name_of(e.barrier->state))},
                                                       {"flags", texts_json(e.barrier->flags)}})
                                 : Value());
    out.set("restriction", e.restriction ? Value(Value::Object{{"kind", e.restriction->kind},
                                                               {"applies", e.restriction->applies},
                                                               {"only", e.restriction->only},
                                                               {"check", e.restriction->check}})
                                         : Value());
    return out;
}

Value surface_json(const SurfaceReading& s) {
    const auto p = [](std::uint8_t odds) { return Value(odds / double{probability_steps}); };
    return Value::Object{
        {"class", Value(name_of(s.likeliest))}, {"known", s.known},           {"p_hard", p(s.odds.hard)},
        {"p_gravel", p(s.odds.gravel)},         {"p_earth", p(s.odds.earth)}, {"source", s.source},
        {"flags", texts_json(s.flags)},         {"reason", s.reason}};
}

Value number_json(const NumberExplanation& n) {
    const auto number = [](const std::optional<double>& v) { return v ? Value(*v) : Value(); };
    return Value::Object{{"key", n.key},
                         {"raw", n.raw},
                         {"unit", n.unit},
                         {"kind", Value(name_of(n.reading.kind))},
                         {"value", number(n.reading.value)},
                         {"hint", number(n.reading.hint)},
                         {"warnings", texts_json(n.reading.warnings)}};
}

Value explanation_json(const TagExplanation& e) {
    Value::Array numbers;
    for (const NumberExplanation& n : e.numbers)
        numbers.push_back(number_json(n));
    return Value::Object{{"drivable", e.drivable},
                         {"surface", surface_json(e.surface)},
                         {"surface_built_up", surface_json(e.surface_built_up)},
                         {"machine", user_json(e.machine)},
                         {"truck", user_json(e.truck)},
                         {"numbers", numbers},
                         {"bridge", e.bridge},
                         {"tunnel", e.tunnel},
                         {"ford", e.ford},
                         {"level_crossing", e.level_crossing},
                         {"notes", texts_json(e.notes)},
                         {"unread", texts_json(e.unread)}};
}

int explain(const TagFlags& flags) {
    const TagView tags = view_of(flags.tags);
    const Users users = users_of(flags);
    const TagExplanation e = explain_tags(tags, users.machine, users.truck, Moment{});
    print(flags.json ? to_json(explanation_json(e), 2) + "\n" : explanation_text(e, users));
    return 0;
}

}  // namespace

void add_tags_command(CLI::App& app, Chosen& chosen) {
    CLI::App* sub = app.add_subcommand("tags", "how the OpenStreetMap tags of one road are read, and why");
    auto flags = std::make_shared<TagFlags>();
    sub->add_option("tags", flags->tags, "tags of a way or node")->required()->type_name("KEY=VALUE");
    sub->add_option("--machine", flags->machine, "machine profile (an assumed one of 18 t, 3.0 m wide)")
        ->type_name("FILE");
    sub->add_option("--state", flags->state, "working state of the machine (its first one)")
        ->type_name("NAME");
    sub->add_flag("--json", flags->json, "print JSON");
    sub->callback([flags, &chosen] { chosen.work = [flags] { return explain(*flags); }; });
}

}  // namespace loamway
