// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/season/jobs.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"
#include "move_part.h"

namespace loamway {

namespace {

constexpr std::array<std::string_view, 9> own_keys{
    "title", "start", "finish", "basis", "margin_pct", "work_hours", "field_load", "job", "what_if"};
constexpr std::array<std::string_view, 5> keys_of_one_move{"from", "to", "when", "front_point",
                                                           "return_trip"};
constexpr std::size_t most_jobs = 500, most_what_ifs = 20;
const Range share_of_power{0.05, 1.0};

bool is_own(std::string_view key) {
    return std::find(own_keys.begin(), own_keys.end(), key) != own_keys.end();
}

Value list_part(const Value& document, const std::string& file) {
    return move_part(document, file, own_keys, keys_of_one_move, "a list of jobs",
                     "places come from start, finish and each job's field");
}

Duration work_of(Table& t, FieldJob& job) {
    const std::optional<double> hours = t.number("hours", {0, 5000});
    job.hectares = t.number("hectares", {0, 100000});
    const std::optional<double> per_hour = t.number("ha_per_h", {0.01, 1000});
    if (hours && per_hour)
        throw t.error_at("ha_per_h", "both hours and ha_per_h are given", "hours say it all");
    if (per_hour && !job.hectares)
        throw t.error_at("ha_per_h", "ha_per_h without hectares", "give the hectares too");
    if (hours)
        return Duration::from_hours(*hours);
    if (!job.hectares || !per_hour)
        throw t.error_at("hours", "nobody says how much work the job is",
                         "give hours, or hectares and ha_per_h");
    return Duration::from_hours(*job.hectares / *per_hour);
}

void read_load(Table& t, FieldJob& job) {
    job.load_assumed = job.load_assumed && !t.has("field_load");
    job.load = t.number_or("field_load", job.load, share_of_power);
}

/// `job`: what holds unless it says otherwise.
FieldJob read_job(Table t, FieldJob job) {
    job.name = t.require_text("name");
    job.field = t.text("field").value_or("");
    job.field_at = t.error_at("field", {}).place();
    job.work = work_of(t, job);
    job.state = t.text("state");
    job.depart = t.text("depart");
    job.depart_at = t.error_at("depart", {}).place();
    if (job.depart) {
        try {
            (void)parse_time(*job.depart, TimeZone());
        } catch (const Error& e) {
            throw t.error_at("depart", e.message(), e.what_to_do());
        }
        if (job.field.empty())
            throw t.error_at("depart", "a job without a field departs nowhere", "name its field");
    }
    read_load(t, job);
    if (const auto litres = t.number("field_l_per_h", {0, 500}))
        job.fuel_per_h = Volume::from_litres(*litres);
    t.finish();
    return job;
}

WhatIf read_what_if(const Value& value, const std::string& file) {
    WhatIf out;
    Table t(value, file, "what_if");
    out.name = t.require_text("name");
    for (const auto& [key, member] : *value.as_object())
        if (is_own(key))
            throw t.error_at(key, fmt::format("{} cannot change in a what_if", key),
                             "machine, belts, rates, conditions and the like can");
    Value move = list_part(value, file);
    Value rest{Value::Object{}};
    rest.set_line(value.line());
    for (const auto& [key, member] : *move.as_object())
        if (key == "rates" && member.as_object() != nullptr)
            out.rates = member;
        else if (key != "name")
            rest.set(key, member);
    out.over = read_move(rest, file);
    return out;
}

}  // namespace

Value laid_over(const Value& base, const Value& over) {
    const Value::Object* above = over.as_object();
    const Value::Object* below = base.as_object();
    if (above == nullptr || below == nullptr)
        return over;
    Value out{Value::Object{}};
    for (const auto& [key, value] : *below) {
        const Value* changed = over.find(key);
        out.set(key, changed != nullptr ? laid_over(value, *changed) : value);
    }
    for (const auto& [key, value] : *above)
        if (base.find(key) == nullptr)
            out.set(key, value);
    return out;
}

JobList read_jobs(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::jobs);
    Table t(document, file);
    JobList list;
    list.title = t.text("title").value_or("");
    list.start = t.require_text("start");
    list.start_at = t.error_at("start", {}).place();
    list.finish = t.text("finish").value_or("");
    list.finish_at = t.error_at("finish", {}).place();
    const bool marginal = t.word("basis", {"marginal", "full"}) == std::size_t{0};
    list.margin = t.number_or("margin_pct", 0, {0, 500}) / 100;
    read_work_hours(t, list.day_from_min, list.day_to_min);
    FieldJob usual;
    read_load(t, usual);
    for (Table& job : t.tables("job"))
        list.jobs.push_back(read_job(std::move(job), usual));
    if (list.jobs.empty())
        throw t.error_at("job", "there are no jobs", "write a [[job]] with name, field and hours");
    if (const Value* cases = t.value("what_if"); cases != nullptr && cases->as_array() != nullptr)
        for (const Value& one : *cases->as_array())
            list.what_ifs.push_back(read_what_if(one, file));
    else if (cases != nullptr && !cases->is_null())
        throw t.error_at("what_if", "what_if is no list", "write [[what_if]]");
    if (list.jobs.size() > most_jobs || list.what_ifs.size() > most_what_ifs)
        throw Error(ErrorKind::limit,
                    fmt::format("{} jobs and {} what-ifs", list.jobs.size(), list.what_ifs.size()),
                    fmt::format("at most {} and {}", most_jobs, most_what_ifs), {file, {}, {}});
    list.move = read_move_part(list_part(document, file), file, own_keys);
    list.move.basis = name_of(marginal ? CostBasis::marginal : CostBasis::full);
    return list;
}

}  // namespace loamway
