#include "app/weighing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "kg/model/fault.h"
#include "kg/weigh/profile.h"
#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

constexpr std::size_t most_grounds = 5;
constexpr std::size_t most_influences = 5;

// The list a content id names.
std::optional<ListingRow> listing_row(const Snapshot& graph, const ContentId& id) {
    const auto place = graph.place_of(id);
    if (!place || place->type != RecordPlace::Type::list) return std::nullopt;
    for (ListingRow& row : graph.listings(place->claim.subject, place->claim.relation))
        if (row.id == id) return std::move(row);
    return std::nullopt;
}

// The argument a content id names.
std::optional<ArgumentRow> argument_row(const Snapshot& graph, const ContentId& id) {
    const auto place = graph.place_of(id);
    if (!place || place->type != RecordPlace::Type::argument) return std::nullopt;
    for (ArgumentRow& row : graph.arguments_for(place->claim))
        if (row.id == id) return std::move(row);
    return std::nullopt;
}

// The reading a content id names, as long as its claim is in force.
std::optional<EvidenceRow> evidence_row(const Snapshot& graph, const ContentId& id) {
    const auto place = graph.place_of(id);
    if (!place || place->type != RecordPlace::Type::evidence) return std::nullopt;
    const auto claim = graph.claim(place->claim);
    if (!claim) return std::nullopt;
    for (const EvidenceRow& row : claim->evidence)
        if (row.id == id) return row;
    return std::nullopt;
}

std::string source_words(const Call& call, const Snapshot& graph, EntityId source) {
    return Privacy(graph, call.with_private).may_show(source) ? graph.label_of(source) : std::string("a private source");
}

std::string ground_words(const Call& call, const Snapshot& graph, const Ground& ground, NoteList& notes) {
    std::string out;
    const auto add = [&](const std::string& part) { out += (out.empty() ? "" : " and ") + part; };
    for (const ContentId& id : ground.evidence) {
        const auto row = evidence_row(graph, id);
        if (!row) continue;
        if (!Privacy(graph, call.with_private).may_show(*row)) {
            add("a private reading");
        } else {
            add(fmt::format("{} [{}]", graph.label_of(row->source), notes.number_of(*row)));
        }
    }
    for (const ContentId& id : ground.listings) {
        const auto row = listing_row(graph, id);
        if (!row) continue;
        add(!Privacy(graph, call.with_private).may_show(*row) ? std::string("a private list that leaves it out")
                                                  : fmt::format("{}, which lists everything and leaves it out [{}]",
                                                                graph.label_of(row->source), notes.number_of(*row)));
    }
    for (const ContentId& id : ground.arguments) {
        const auto row = argument_row(graph, id);
        if (!row) continue;
        add(!Privacy(graph, call.with_private).may_show(*row) ? std::string("a private inference")
                                                  : fmt::format("the inference that {}", row->reason));
    }
    return out;
}

void write_grounds(Call& call, const Snapshot& graph, const std::vector<Ground>& grounds, const char* heading,
                   NoteList& notes) {
    if (grounds.empty()) return;
    *call.out << call.layout.strong(heading) << '\n';
    for (std::size_t i = 0; i < grounds.size() && i < most_grounds; ++i) {
        *call.out << "    " << figure_text(grounds[i].probability, 0) << "  "
                  << wrap(ground_words(call, graph, grounds[i], notes), call.layout.width, 11) << '\n';
    }
    if (grounds.size() > most_grounds) *call.out << "    and " << grounds.size() - most_grounds << " more\n";
}

// "a rumour, copied from …": how a reading entered where it did not enter in its own right.
void write_special_readings(Call& call, const Snapshot& graph, const Weight& weight) {
    Privacy privacy(graph, call.with_private);
    for (const ReadingShown& reading : weight.readings) {
        if (reading.role == ReadingShown::Role::own || !privacy.may_tell(reading.record)) continue;
        std::string text = graph.label_of(reading.source) + ": " + word_for(reading.role);
        if (reading.root && privacy.may_show(reading.root)) text += " of " + graph.label_of(reading.root);
        if (reading.role == ReadingShown::Role::copy) text += "; adds nothing where its root is entered";
        *call.out << "    " << wrap(text, call.layout.width, 6) << '\n';
    }
}

nlohmann::json ground_as_json(const Snapshot& graph, const Ground& ground, const char* stance, bool with_private) {
    Privacy privacy(graph, with_private);
    nlohmann::json evidence = nlohmann::json::array();
    for (const ContentId& id : ground.evidence)
        if (privacy.may_tell(id)) evidence.push_back(id.full());
    nlohmann::json lists = nlohmann::json::array();
    for (const ContentId& id : ground.listings)
        if (privacy.may_tell(id)) lists.push_back(id.full());
    nlohmann::json steps = nlohmann::json::array();
    for (const ContentId& id : ground.arguments)
        if (privacy.may_tell(id)) steps.push_back(id.full());
    return {{"stance", stance},
            {"evidence", evidence},
            {"lists", lists},
            {"arguments", steps},
            {"probability", ground.probability}};
}

// Support and possibility, as far as they may be given as figures.
void write_figures(Call& call, const Weight& weight) {
    const auto figure = [&](double value) { return figure_text(value, weight.half_width); };
    const std::string how = weight.method == Method::exact
                                ? std::string("exact")
                                : fmt::format("sampled, +-{:.2g} at 95 %, {} worlds", weight.half_width, weight.worlds);
    const Masses& m = weight.masses;
    if (m.for_only == 0 && m.both == 0 && m.against_only == 0) {
        *call.out << "    nothing speaks for it and nothing against it: open\n";
    } else if (weight.clarity == Clarity::contradictory) {
        *call.out << "    "
                  << wrap(fmt::format("the sources contradict each other: there is no single figure. With what contradicts "
                                      "left aside, support {}, possibility {}, {}",
                                      figure(weight.support), figure(weight.possibility), how),
                          call.layout.width, 4)
                  << '\n';
    } else if (m.for_only == 0) {
        *call.out << fmt::format("    nothing speaks for it; possibility {}   {}\n", figure(weight.possibility), how);
    } else {
        if (weight.clarity == Clarity::contested)
            *call.out << "    contested: part of the evidence contradicts itself\n";
        *call.out << fmt::format("    support {} ({})   possibility {}   {}\n", figure(weight.support), weight.words,
                                 figure(weight.possibility), how);
    }
}

}  // namespace

WeighOptions weigh_options(const Call& call, const Snapshot& graph, const Profile& profile) {
    WeighOptions options;
    for (const std::string& text : call.all("--what-if")) {
        const auto sign = text.rfind('=');
        const auto chance = sign == std::string::npos ? std::nullopt : read_chance(text.substr(sign + 1));
        if (!chance)
            throw UsageFault("--what-if wants SOURCE=CHANCE, not \"" + text + "\"",
                             "for example --what-if source:memo-12=0.5");
        graph.need(text.substr(0, sign));
        options.what_if[text.substr(0, sign)] = *chance;
    }
    for (const std::string& key : call.all("--without")) {
        graph.need(key);
        options.without_sources.push_back(key);
    }
    if (call.has("--base-rate")) options.base_rate = call.number("--base-rate", 0, 0, 1);
    if (call.has("--thorough")) options.node_budget = profile.nodes_on_request;
    return options;
}

std::string mass_bar(const Masses& masses, std::size_t width) {
    // Each sign stands for an equal share; the largest remainders take the signs that are left.
    const double parts[] = {masses.for_only, masses.both, masses.against_only, masses.neither};
    constexpr char signs[] = {'+', 'x', '-', '.'};
    std::size_t counts[4];
    std::size_t used = 0;
    for (int i = 0; i < 4; ++i)
        used += counts[i] = static_cast<std::size_t>(std::floor(parts[i] * static_cast<double>(width) + 1e-9));
    while (used < width) {
        int best = 0;
        double most = -1;
        for (int i = 0; i < 4; ++i) {
            // Rounded, so that equal shares stay equal; the first of equals takes the sign.
            const double share = std::round(parts[i] * static_cast<double>(width) * 1e9) / 1e9;
            const double rest = share - static_cast<double>(counts[i]);
            if (rest > most) {
                most = rest;
                best = i;
            }
        }
        ++counts[best];
        ++used;
    }
    std::string bar;
    for (int i = 0; i < 4; ++i) bar += std::string(counts[i], signs[i]);
    return bar;
}

void write_weight(Call& call, const Snapshot& graph, const Weight& weight, NoteList& notes) {
    const double width = weight.half_width;
    const auto figure = [&](double value) { return figure_text(value, width); };
    const auto claim = graph.claim(weight.claim);
    *call.out << call.layout.strong(wrap(statement(graph, claim->claim), call.layout.width, 4)) << "  "
              << call.layout.faint("claim:" + claim->claim.id.brief()) << '\n';
    const Masses& m = weight.masses;
    *call.out << "    [" << mass_bar(m, std::min<std::size_t>(60, call.layout.width - 6)) << "]\n";
    *call.out << table({{"+", "argued for", figure(m.for_only)},
                        {"-", "argued against", figure(m.against_only)},
                        {"x", "contradictory", figure(m.both)},
                        {".", "open", figure(m.neither)}},
                       call.layout, false, 4);
    if (weight.clarity == Clarity::no_figure || !weight.normalised) {
        *call.out << "    the sources contradict each other; no single figure is given\n";
    } else {
        write_figures(call, weight);
    }
    if (weight.method == Method::exact && weight.normalised && weight.clarity != Clarity::no_figure &&
        weight.band.high() - weight.band.low() >= 0.0005)
        *call.out << "    "
                  << wrap(fmt::format("support between {} and {}, depending on how far the sources depend on each other{}",
                                      figure(weight.band.low()), figure(weight.band.high()),
                                      weight.band.unknown ? " (not known here: read the band, not the figure)" : ""),
                          call.layout.width, 4)
                  << '\n';
    if (weight.betting)
        *call.out << fmt::format("    betting figure at the base rate given: {} (beside the weight, not part of it)\n",
                                 figure_text(*weight.betting, 0));
    *call.out << fmt::format("    independent roots: {} for, {} against\n", weight.roots_for, weight.roots_against);
    write_special_readings(call, graph, weight);
    write_grounds(call, graph, weight.grounds_for, "each of these would suffice", notes);
    write_grounds(call, graph, weight.grounds_against, "each of these would suffice against it", notes);
    bool headed = false;
    for (std::size_t i = 0; i < weight.influence.size() && i < most_influences; ++i) {
        const Influence& one = weight.influence[i];
        if (weight.clarity == Clarity::no_figure || std::abs(one.without - weight.support) < 0.0005) continue;
        if (!headed) *call.out << call.layout.strong("what matters most") << '\n';
        headed = true;
        *call.out << "    "
                  << wrap(fmt::format("if {} were misread, the support {} from {} to {}", source_words(call, graph, one.source),
                                      one.without < weight.support ? "falls" : "rises", figure(weight.support),
                                      figure(one.without)),
                          call.layout.width, 6)
                  << '\n';
    }
    *call.out << "    "
              << wrap("weighed by profile " + weight.profile +
                          "; its numbers are conventions. Support is how far the evidence argues for the claim; it is not "
                          "the probability that it is true.",
                      call.layout.width, 4)
              << '\n';
}

void write_joint(Call& call, const Snapshot& graph, const JointWeight& joint) {
    const auto figure = [&](double value) { return figure_text(value, joint.half_width); };
    std::vector<std::vector<std::string>> rows;
    rows.push_back({"contradictions left aside",
                    joint.normalised ? figure(joint.conditioned) : "no figure: the sources contradict each other"});
    rows.push_back({"contradictions ignored", figure(joint.raw)});
    rows.push_back({"by uncontested claims only", figure(joint.uncontested)});
    if (joint.method == Method::exact && joint.band.high() - joint.band.low() >= 0.0005)
        rows.push_back({"depending on how far sources depend on each other",
                        figure(joint.band.low()) + " to " + figure(joint.band.high())});
    *call.out << table(rows, call.layout, false, 4);
    if (joint.worst && joint.worst->both >= 0.0005) {
        if (const auto claim = graph.claim(joint.worst->claim)) {
            *call.out << "    "
                      << wrap(fmt::format("worst contradiction, {}: {}", figure(joint.worst->both),
                                          Privacy(graph, call.with_private).may_show(*claim) ? statement(graph, claim->claim) : "a private claim"),
                              call.layout.width, 6)
                      << '\n';
        }
    }
    std::size_t shown = 0;
    for (const Influence& source : joint.influence) {
        if (std::abs(source.without - joint.conditioned) < 0.0005 || shown++ == 3) break;
        *call.out << "    "
                  << wrap(fmt::format("if {} were misread: {}", source_words(call, graph, source.source), figure(source.without)),
                          call.layout.width, 6)
                  << '\n';
    }
    *call.out << "    weighed by profile " << joint.profile << "; its numbers are conventions\n";
}

nlohmann::json weight_as_json(const Snapshot& graph, const Weight& weight, bool with_private) {
    const auto claim = graph.claim(weight.claim);
    nlohmann::json arguments = nlohmann::json::array();
    for (const Ground& ground : weight.grounds_for)
        arguments.push_back(ground_as_json(graph, ground, "for", with_private));
    for (const Ground& ground : weight.grounds_against)
        arguments.push_back(ground_as_json(graph, ground, "against", with_private));
    nlohmann::json influence = nlohmann::json::array();
    Privacy privacy(graph, with_private);
    for (const Influence& one : weight.influence)
        if (privacy.may_show(one.source)) influence.push_back({{"source", graph.key_of(one.source)}, {"slope", one.slope}, {"without", one.without}});
    nlohmann::json readings = nlohmann::json::array();
    for (const ReadingShown& one : weight.readings) {
        if (!privacy.may_tell(one.record)) continue;
        nlohmann::json reading = {{"record", one.record.full()},
                                  {"source", graph.key_of(one.source)},
                                  {"stance", one.stance == Stance::in_favour ? "for" : "against"},
                                  {"reliability", one.reliability},
                                  {"role", word_for(one.role)}};
        if (one.root && privacy.may_show(one.root)) reading["root"] = graph.key_of(one.root);
        readings.push_back(std::move(reading));
    }
    const bool figures = weight.normalised && weight.clarity != Clarity::no_figure;
    nlohmann::json out = {{"claim", claim->claim.id.full()},
                          {"statement", statement(graph, claim->claim)},
                          {"for_only", weight.masses.for_only},
                          {"against_only", weight.masses.against_only},
                          {"both", weight.masses.both},
                          {"neither", weight.masses.neither},
                          {"support", weight.support},
                          {"possibility", weight.possibility},
                          {"show_figure", figures},
                          {"clarity", word_for(weight.clarity)},
                          {"method", word_for(weight.method)},
                          {"half_width", weight.half_width},
                          {"worlds", weight.worlds},
                          {"words", weight.words},
                          {"arguments", arguments},
                          {"influence", influence},
                          {"readings", readings},
                          {"roots_for", weight.roots_for},
                          {"roots_against", weight.roots_against},
                          {"band",
                           {{"independent", weight.band.independent},
                            {"usual", weight.band.usual},
                            {"dependent", weight.band.dependent},
                            {"low", weight.band.low()},
                            {"high", weight.band.high()},
                            {"unknown", weight.band.unknown}}},
                          {"nodes", weight.nodes},
                          {"profile", weight.profile},
                          {"entry", graph.entry()}};
    if (weight.betting) out["betting_figure"] = *weight.betting;
    return out;
}

}  // namespace saggar::app
