#include "queries/privacy.h"
#include "queries/trace_json.h"

#include <nlohmann/json.hpp>

#include "kg/model/record_json.h"

namespace saggar {

namespace {

using nlohmann::json;

json fields_of(const Record& record) {
    std::string text;
    append_json_fields(record, text);
    return json::parse(text);
}

json time_of(const ChainTime& time, const Snapshot& snapshot) {
    json out = {{"possible", time.possible}, {"common", nullptr}, {"clash", nullptr}};
    if (time.possible && time.bound) out["common"] = time::to_text(time.common);
    if (time.clash) {
        out["clash"] = json::array();
        for (const ClaimRef claim : {time.clash->first, time.clash->second}) {
            const auto row = snapshot.claim(claim);
            if (row) out["clash"].push_back(row->claim.id.full());
        }
    }
    return out;
}

json step_of(const TraceStep& shown, const Snapshot& snapshot, bool with_private) {
    Privacy privacy(snapshot, with_private);
    const ChainStep& step = shown.step;
    json out = {{"from", snapshot.key_of(step.from)},
                {"to", snapshot.key_of(step.to)},
                {"walked", step.forward ? "forward" : "back"},
                {"support", shown.support},
                {"evidence", json::array()}};
    const auto row = snapshot.claim(step.claim);
    if (!row) return out;
    const Claim claim = snapshot.to_record(row->claim);
    out["claim"] = row->claim.id.full();
    out["subject"] = claim.subject;
    out["relation"] = claim.relation;
    out["object"] = claim.object.text;
    if (!claim.scope.empty()) out["scope"] = claim.scope;
    if (!claim.when.empty()) out["when"] = claim.when;
    for (const EvidenceRow& evidence : row->evidence) {
        if (!privacy.may_show(evidence)) continue;
        out["evidence"].push_back(fields_of(snapshot.to_record(evidence, row->claim.id)));
    }
    return out;
}

json worst_of(const std::optional<Contradiction>& worst, const Snapshot& snapshot) {
    if (!worst) return nullptr;
    const auto row = snapshot.claim(worst->claim);
    return {{"claim", row ? row->claim.id.full() : std::string()}, {"both", worst->both}};
}

json band_of(const Band& band) {
    return {{"independent", band.independent}, {"usual", band.usual}, {"dependent", band.dependent},
            {"low", band.low()}, {"high", band.high()}, {"unknown", band.unknown}};
}

}  // namespace

json to_json(const JointWeight& joint, const Snapshot& snapshot, bool with_private) {
    json influence = json::array();
    Privacy privacy(snapshot, with_private);
    for (const Influence& source : joint.influence) {
        if (!privacy.may_show(source.source)) continue;
        influence.push_back({{"source", snapshot.key_of(source.source)}, {"slope", source.slope}, {"without", source.without}});
    }
    return {{"raw", joint.raw},
            {"conditioned", joint.normalised ? json(joint.conditioned) : json(nullptr)},
            {"uncontested", joint.uncontested},
            {"consistent", joint.consistent},
            {"method", word_for(joint.method)},
            {"half_width", joint.half_width},
            {"worst", worst_of(joint.worst, snapshot)},
            {"influence", std::move(influence)},
            {"band", band_of(joint.band)},
            {"profile", joint.profile}};
}

json to_json(const TraceAnswer& answer, const Snapshot& snapshot, bool with_private) {
    json paths = json::array();
    for (const TraceChain& chain : answer.chains) {
        json steps = json::array();
        for (const TraceStep& step : chain.steps) steps.push_back(step_of(step, snapshot, with_private));
        paths.push_back({{"steps", std::move(steps)},
                         {"end", snapshot.key_of(chain.end())},
                         {"support", chain.support},
                         {"time", time_of(chain.time, snapshot)}});
    }
    json out = {{"from", snapshot.key_of(answer.from)},
                {"to", answer.to ? json(snapshot.key_of(*answer.to)) : json(nullptr)},
                {"to_kind", answer.to_kind},
                {"via", answer.via},
                {"during", answer.during},
                {"paths", std::move(paths)},
                {"complete", answer.complete},
                {"more", answer.more},
                {"joint", nullptr},
                {"joint_all", nullptr},
                {"paths_all", answer.chains_all},
                {"paths_all_complete", answer.all_complete},
                {"band", nullptr}};
    if (answer.joint) {
        out["joint"] = to_json(*answer.joint, snapshot, with_private);
        out["band"] = band_of(answer.joint->band);
    }
    if (answer.joint_all) out["joint_all"] = to_json(*answer.joint_all, snapshot, with_private);
    return out;
}

}  // namespace saggar
