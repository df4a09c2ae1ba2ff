#include <memory>

#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/store.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

struct Sample {
    std::vector<double> microseconds;
    std::size_t seen = 0;  // kept so that nothing is optimised away

    template <class Work>
    void time(Work work) {
        const Stopwatch watch;
        seen += work();
        microseconds.push_back(watch.seconds() * 1e6);
    }
    double p50() const { return percentile(microseconds, .5); }
    double p95() const { return percentile(microseconds, .95); }
};

}  // namespace

Numbers lookup(std::uint64_t claims, const std::filesystem::path& folder) {
    const Store store = Store::open(folder, Access::read);
    const auto snapshot = store.snapshot();
    const Sizes n(claims);
    Random random(7);
    std::vector<EntityId> ids;
    for (int i = 0; i < 4000; ++i) {
        const bool piece = random.below(2) == 0;
        ids.push_back(snapshot->need(piece ? key_of("piece", random.below(n.pieces)) : key_of("item", random.below(n.items))));
    }
    Sample raw, own, all;
    std::size_t readings = 0, held = 0;
    for (const bool warm : {false, true}) {
        if (warm) raw = own = all = Sample();
        for (const EntityId id : ids) {
            raw.time([&] {
                const std::string prefix = keys::claims(id);
                std::size_t bytes = 0;
                for_prefix(*store.database(), prefix, [&](std::string_view key, std::string_view value) {
                    bytes += key.size() + value.size();
                    return true;
                });
                return bytes;
            });
        }
        for (const EntityId id : ids) {
            own.time([&] {
                const auto found = snapshot->claims_of(id);
                if (warm) {
                    held += found.size();
                    for (const ClaimWithEvidence& claim : found) readings += claim.evidence.size();
                }
                return found.size();
            });
        }
        for (const EntityId id : ids) {
            all.time([&] {
                std::size_t letters = snapshot->entity(id)->label.text.size();
                for (const ClaimWithEvidence& claim : snapshot->claims_of(id)) {
                    letters += snapshot->to_record(claim.claim).object.text.size();
                    for (const EvidenceRow& evidence : claim.evidence) letters += snapshot->label_of(evidence.source).size();
                }
                for (const ClaimRef claim : snapshot->claims_about(id)) letters += snapshot->key_of(claim.subject).size();
                return letters;
            });
        }
    }
    const auto count = static_cast<double>(ids.size());
    return {{"raw_p50", raw.p50()},     {"own_p50", own.p50()},
            {"all_p50", all.p50()},     {"all_p95", all.p95()},
            {"claims_each", static_cast<double>(held) / count}, {"readings_each", static_cast<double>(readings) / count}};
}

Numbers command(std::uint64_t claims, const std::filesystem::path& folder) {
    const Sizes n(claims);
    Random random(11);
    const std::string saggar = std::string(SAGGAR_BIN_DIR) + "/saggar";
    std::vector<double> show, show_processor, trace, trace_processor;
    for (int i = 0; i < 40; ++i) {
        const std::string item = key_of("item", random.below(n.items));
        const ProgramRun run = run_program({saggar, "--graph", folder.string(), "show", item}, false);
        if (run.status != 0) continue;
        show.push_back(run.seconds * 1e3);
        show_processor.push_back(run.processor_seconds * 1e3);
    }
    for (int i = 0; i < 40; ++i) {
        const std::string line = key_of("line", random.below(n.lines));
        const ProgramRun run = run_program({saggar, "--graph", folder.string(), "trace", line, "--to-kind", "company", "--via",
                                            "(built-on|commissioned-by|^sold-by)+", "--best", "1"},
                                           false);
        if (run.status != 0) continue;
        trace.push_back(run.seconds * 1e3);
        trace_processor.push_back(run.processor_seconds * 1e3);
    }
    return {{"show_p50_ms", percentile(show, .5)},
            {"show_processor_ms", percentile(show_processor, .5)},
            {"show_runs", static_cast<double>(show.size())},
            {"trace_p50_ms", percentile(trace, .5)},
            {"trace_processor_ms", percentile(trace_processor, .5)},
            {"trace_runs", static_cast<double>(trace.size())}};
}

}  // namespace saggar::bench
