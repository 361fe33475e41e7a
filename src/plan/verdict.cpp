// SPDX-License-Identifier: Apache-2.0
#include "verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "flips.h"
#include "json_figures.h"
#include "loamway/base/unit_words.h"
#include "loamway/costs/uncertainty.h"
#include "loamway/plan/break_even_words.h"
#include "loamway/plan/plan_words.h"
#include "uncertainty.h"

namespace loamway {

namespace {

std::size_t relube_stops(const Option& o) {
    return static_cast<std::size_t>(
        std::count_if(o.stops.begin(), o.stops.end(), [](const PlanStop& s) { return s.kind == "relube"; }));
}

std::string stops_text(const Option& o) {
    const std::size_t n = relube_stops(o);
    return n == 0 ? "no re-lube stop" : n == 1 ? "1 re-lube stop" : fmt::format("{} re-lube stops", n);
}

std::string drive_text(const Option& o, const UnitWords& words) {
    return fmt::format("{}, {} of them paved, {}, {}", words.length(*o.length_m), words.number(*o.hard_m),
                       stops_text(o), format_duration(Duration::from_seconds(kept_seconds(*o.duration_s))));
}

std::string money(const Option& o) {
    return fmt::format("{:.0f} {}", kept_money(*o.cost.total), o.cost.currency);
}

std::string why_not_text(const Option& o) {
    std::string text;
    for (const std::string& w : o.why_not)
        text += (text.empty() ? "" : "; ") + w;
    return text;
}

const Option* first_of(const std::vector<Option>& options, Mode mode) {
    for (const Option& o : options)
        if (o.mode == mode)
            return &o;
    return nullptr;
}

// Of everything driven, done or not, the one with the least paved metres.
const Option* softest(const std::vector<Option>& options) {
    const Option* best = nullptr;
    for (const Option& o : options)
        if (o.mode == Mode::drive && o.hard_m && (best == nullptr || *o.hard_m < *best->hard_m))
            best = &o;
    return best;
}

std::string beside(const Option& o, const Option& chosen) {
    if (!o.feasible)
        return fmt::format("cannot be done: {}", why_not_text(o));
    return fmt::format("costs {:.0f} {} more on average", expected_cost(o) - expected_cost(chosen),
                       chosen.cost.currency);
}

// What is driven of an option; `whose` where it is not the one advised, or only a part of that.
void explain_driven(const Option& o, std::string_view whose, const UnitWords& words,
                    std::vector<std::string>& reasons) {
    reasons.push_back(
        fmt::format("{}{} of {} are paved as far as the map tells: {} for certain, up to {} if every "
                    "road of unknown surface is",
                    whose, words.number(*o.hard_m), words.length(*o.length_m), words.number(*o.hard_low_m),
                    words.number(*o.hard_high_m)));
    reasons.push_back(
        fmt::format("{}{} belts lose about {:.2f} % of a set ({}), worth {:.0f} {}; as much as "
                    "{:.0f} h of field work ({})",
                    whose, whose.empty() ? "The" : "the", 100 * *o.wear.share, words.wear(*o.wear.mm),
                    *o.cost.belts, o.cost.currency, *o.wear.field_hours_equivalent,
                    o.wear.calibrated ? "estimate, from rates calibrated by height surveys"
                                      : "estimate, every wear figure is an assumption"));
}

void explain_softest(const Option& o, const std::vector<Option>& options, bool advised,
                     const UnitWords& words, std::vector<std::string>& reasons) {
    if (const Option* soft = softest(options); soft != nullptr && *soft->hard_m < *o.hard_m)
        reasons.push_back(fmt::format("The softest way ({}) has {} paved of {} and {}{}",
                                      option_name(soft->id), words.number(*soft->hard_m),
                                      words.length(*soft->length_m), beside(*soft, o),
                                      advised || !soft->feasible ? "" : " than " + option_name(o.id)));
}

// What did not win and needs an answer first.
void add_flips(const std::vector<Option>& options, const std::string& advised, Verdict& v) {
    for (const Option& o : options)
        if (o.id != advised)
            for (const std::string& a : o.answer_needed)
                v.would_flip.push_back(fmt::format("{}: {}", option_name(o.id), a));
}

Verdict nothing_can_be_done(const std::vector<Option>& options) {
    const Option* driven = first_of(options, Mode::drive);
    const Option* hauled = first_of(options, Mode::haul);
    const Option* mixed = first_of(options, Mode::mixed);
    Verdict v;
    std::string why;
    for (const Option* o : {driven, hauled, mixed})
        if (o != nullptr)
            why += fmt::format("{}{}: {}", why.empty() ? "" : ". ",
                               o == driven   ? "Driving"
                               : o == hauled ? "Hauling"
                                             : "Both",
                               why_not_text(*o));
    v.sentence = fmt::format("As asked this move cannot be done. {}.", why);
    for (const Option& o : options)
        v.reasons.insert(v.reasons.end(), o.answer_needed.begin(), o.answer_needed.end());
    std::sort(v.reasons.begin(), v.reasons.end());
    v.reasons.erase(std::unique(v.reasons.begin(), v.reasons.end()), v.reasons.end());
    return v;
}

class VerdictWriter {
public:
    VerdictWriter(const Plan& plan, const Option& best)
        : m_plan(plan),
          m_best(best),
          m_words(plan.units),
          m_drive(cheapest_option(plan.options, Mode::drive)),
          m_haul(cheapest_option(plan.options, Mode::haul)) {
        if (plan.uncertainty && plan.uncertainty->comparison)
            m_next = plan.find_option(plan.uncertainty->comparison->next);
    }

    Verdict write(const std::string& heat) {
        m_out.option = m_best.id;
        m_out.mode = m_best.mode;
        if (m_plan.uncertainty && m_plan.uncertainty->mode_probability) {
            m_out.probability_cheapest = m_plan.uncertainty->mode_probability;
            m_out.too_close = too_close(*m_out.probability_cheapest);
        }
        m_out.sentence = sentence();
        basis();
        if (!heat.empty())
            reason(heat);
        certainty();
        money_parts();
        limits();
        driven();
        if (m_best.mode != Mode::haul && m_haul == nullptr)
            if (const Option* hauled = first_of(m_plan.options, Mode::haul))
                reason(fmt::format("Hauling cannot be done: {}", why_not_text(*hauled)));
        lengths();
        if (m_plan.uncertainty)
            for (const CostFlip& f : m_plan.uncertainty->flips)
                m_out.would_flip.push_back(f.text);
        add_flips(m_plan.options, m_best.id, m_out);
        return std::move(m_out);
    }

private:
    void reason(std::string text) { m_out.reasons.push_back(std::move(text)); }

    [[nodiscard]] std::string sentence() const {
        const std::string close = m_out.too_close.value_or(false) ? ", though it is too close to call" : "";
        const Option* beside = m_best.mode == Mode::drive ? m_haul : m_drive;
        // The mean decides; where the estimates say the opposite, both are given.
        const bool means = beside != nullptr && m_best.cost.mean && beside->cost.mean &&
                           kept_money(*beside->cost.total) <= kept_money(*m_best.cost.total);
        const auto average = [means](const Option& o) {
            return means ? fmt::format(" ({:.0f} on average)", kept_money(*o.cost.mean)) : "";
        };
        if (m_best.mode == Mode::drive) {
            std::string text = fmt::format("Drive it{}: {}, about {}{}", close, drive_text(m_best, m_words),
                                           money(m_best), average(m_best));
            if (m_haul != nullptr)
                text += fmt::format("; hauling would cost about {:.0f}{}", kept_money(*m_haul->cost.total),
                                    average(*m_haul));
            return text + ".";
        }
        std::string text = m_best.mode == Mode::haul
                               ? fmt::format("Haul it{}: {} by low-bed, about {}{}.", close,
                                             m_words.length(*m_best.hauled_m), money(m_best), average(m_best))
                               : fmt::format(
                                     "Drive part of it and haul the rest{}: {} driven, {} by "
                                     "low-bed, about {}{}.",
                                     close, m_words.length(*m_best.length_m),
                                     m_words.length(*m_best.hauled_m), money(m_best), average(m_best));
        if (m_drive != nullptr)
            text += fmt::format(" Driving would be {}, and about {:.0f}{}.", drive_text(*m_drive, m_words),
                                kept_money(*m_drive->cost.total), average(*m_drive));
        else if (const Option* driven = first_of(m_plan.options, Mode::drive))
            text += fmt::format(" Driving cannot be done: {}.", why_not_text(*driven));
        return text;
    }

    // What the verdict goes by; with the other basis where it would say something else.
    void basis() {
        std::string text =
            fmt::format("Cheapest by mean cost of what can be done, on the {} basis", m_best.cost.basis);
        if (m_next != nullptr && m_best.cost.other_basis_total && m_next->cost.other_basis_total)
            text += fmt::format("; on the {} basis {} costs {:.0f}, {} {:.0f}",
                                m_best.cost.basis == "full" ? "marginal" : "full", doing(m_best),
                                kept_money(*m_best.cost.other_basis_total), doing(*m_next),
                                kept_money(*m_next->cost.other_basis_total));
        reason(std::move(text));
    }

    [[nodiscard]] std::string doing(const Option& o) const {
        if (m_next != nullptr && m_next->mode == m_best.mode)
            return option_name(o.id);
        return o.mode == Mode::drive ? "driving" : o.mode == Mode::haul ? "hauling" : "mixing";
    }

    // Of whichever option a figure is: of the advice first, then of driving where that is another one.
    void driven() {
        const auto worn = [](const Flag& f) { return f.kind == "worn_bars"; };
        for (const Option* o : {&m_best, m_drive})
            if (o != nullptr && o->mode != Mode::haul) {
                const auto flag = std::find_if(o->flags.begin(), o->flags.end(), worn);
                if (flag != o->flags.end()) {
                    reason("Before any driving: " + flag->text);
                    break;
                }
            }
        if (m_best.mode == Mode::mixed)
            explain_driven(m_best, "The driven part: ", m_words, m_out.reasons);
        if (m_drive == nullptr)
            return;
        const bool advised = m_best.mode == Mode::drive;
        const std::string whose =
            advised ? std::string() : fmt::format("Driving all the way ({}): ", option_name(m_drive->id));
        explain_driven(*m_drive, whose, m_words, m_out.reasons);
        explain_softest(*m_drive, m_plan.options, advised, m_words, m_out.reasons);
    }

    void certainty() {
        if (!m_out.probability_cheapest || m_next == nullptr)
            return;
        const CostComparison& c = *m_plan.uncertainty->comparison;
        std::string text = fmt::format("{} in {} that {} is cheapest",
                                       in_a_hundred(*m_out.probability_cheapest), 100, doing(m_best));
        if (*m_out.too_close)
            text += ": too close to call";
        if (c.cost_of_being_wrong >= 0.5)
            text += fmt::format("; being wrong costs {:.0f} {}, averaged over all trials",
                                c.cost_of_being_wrong, m_best.cost.currency);
        if (*m_out.too_close)
            text += belts_saved();
        reason(std::move(text));
    }
    // None and all of them happened in these trials; nobody knows that they always would.
    static std::string in_a_hundred(double p) {
        if (p >= 0.995)
            return "More than 99";
        return p < 0.005 ? "Less than 1" : fmt::format("{:.0f}", 100 * p);
    }
    // Where money does not decide, belts may.
    [[nodiscard]] std::string belts_saved() const {
        const double mm = m_next->wear.mm.value_or(0) - m_best.wear.mm.value_or(0);
        if (std::abs(mm) < 0.005)
            return {};
        return fmt::format("; {} saves {} of bar", doing(mm > 0 ? m_best : *m_next),
                           m_words.wear(std::abs(mm)));
    }

    // What the two differ in, the widest difference first.
    void money_parts() {
        if (m_next == nullptr || m_next->mode == m_best.mode)
            return;
        struct Part {
            std::string_view name;
            std::optional<double> OptionCost::*figure;
        };
        constexpr std::array<Part, 9> parts{{{"labour", &OptionCost::labour},
                                             {"fuel", &OptionCost::fuel},
                                             {"belts", &OptionCost::belts},
                                             {"machine", &OptionCost::machine},
                                             {"powder", &OptionCost::lubricant},
                                             {"escort", &OptionCost::escort},
                                             {"low-bed", &OptionCost::truck},
                                             {"permit", &OptionCost::permit},
                                             {"fetching the driver, tolls, delay", &OptionCost::other}}};
        std::vector<std::pair<double, std::string_view>> more;
        for (const Part& p : parts)
            more.emplace_back((m_next->cost.*p.figure).value_or(0) - (m_best.cost.*p.figure).value_or(0),
                              p.name);
        std::stable_sort(more.begin(), more.end(),
                         [](const auto& a, const auto& b) { return std::abs(a.first) > std::abs(b.first); });
        constexpr std::size_t most_parts = 4;
        std::string text;
        for (std::size_t i = 0; i < most_parts && std::abs(more[i].first) >= 0.5; ++i)
            text += fmt::format("{}{} {:+.0f}", text.empty() ? "" : ", ", more[i].second, more[i].first);
        if (!text.empty())
            reason(fmt::format("{} instead, in {}: {}", upper_first(doing(*m_next)), m_best.cost.currency,
                               text));
    }
    static std::string upper_first(std::string text) {
        if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
            text[0] = static_cast<char>(text[0] - 'a' + 'A');
        return text;
    }

    // Places somebody has to look at first.
    void limits() {
        std::vector<const Flag*> places;
        for (const Flag& f : m_best.flags)
            if (f.at_m && f.severity != Severity::note && f.kind != "assumed")
                places.push_back(&f);
        if (places.empty())
            return;
        std::stable_sort(places.begin(), places.end(), [](const Flag* a, const Flag* b) {
            return a->severity != b->severity ? a->severity > b->severity : *a->at_m < *b->at_m;
        });
        constexpr std::size_t most_places = 3;
        std::string text;
        for (std::size_t i = 0; i < places.size() && i < most_places; ++i)
            text += fmt::format("{}{} at {} {:.1f}", text.empty() ? "" : ", ", kind_words(places[i]->kind),
                                m_words.long_unit(), m_words.long_units(*places[i]->at_m));
        if (places.size() > most_places)
            text += fmt::format(" and {} more", places.size() - most_places);
        reason(fmt::format("To check first: {}", text));
    }
    static std::string kind_words(std::string kind) {
        std::replace(kind.begin(), kind.end(), '_', ' ');
        return kind;
    }

    // From which length on, and what the difference hangs on.
    void lengths() {
        std::string text;
        if (m_plan.break_even && m_plan.break_even->haul_from_m)
            text = break_even_words(*m_plan.break_even, m_words);
        if (m_plan.uncertainty && m_next != nullptr && m_next->mode != m_best.mode &&
            m_plan.uncertainty->tornado.size() >= 2) {
            const std::vector<CostBar>& bars = m_plan.uncertainty->tornado;
            text +=
                fmt::format("{} hangs most on: {}, {}", text.empty() ? "The difference" : "; the difference",
                            words_of(move_input(bars[0].input)), words_of(move_input(bars[1].input)));
        }
        if (!text.empty())
            reason(text);
    }

    const Plan& m_plan;
    const Option& m_best;
    UnitWords m_words;
    const Option* m_drive;
    const Option* m_haul;
    const Option* m_next = nullptr;
    Verdict m_out;
};

}  // namespace

Verdict make_verdict(Plan& plan, const std::vector<HeatNote>& notes) {
    const Option* best = cheapest_option(plan.options);
    const HeatAnswer heat = heat_answer(plan.options, best, notes, UnitWords(plan.units));
    if (!plan.heat_search.is_null())
        plan.heat_search.set("answer", heat.word);
    if (best == nullptr)
        return nothing_can_be_done(plan.options);
    return VerdictWriter(plan, *best).write(heat.reason);
}

}  // namespace loamway
