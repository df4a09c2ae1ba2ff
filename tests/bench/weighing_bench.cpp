// The weighing: exact answers over shared sources, sampled ones, and a changed chance. CPU time of the thread, so that
// other work on the machine does not count.
#include <time.h>

#include <algorithm>
#include <memory>
#include <random>

#include "kg/store/store.h"
#include "kg/weigh/answer_book.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"

namespace saggar::bench {

namespace {

double cpu_ms() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

// Claims with readings from a few shared sources, every claim read at least once, the rest at random, some against.
struct Wanted {
    int claims = 40, readings = 75, sources = 12;
    double against = .2;      // of the second readings
    int lanes = 4;            // 0: single claims in random chains of five
    std::uint64_t seed = 0;
};

struct Made {
    std::filesystem::path folder;
    std::vector<Chain> chains;
    std::unique_ptr<Store> store;
    std::unique_ptr<Snapshot> snapshot;
    std::vector<ClaimRef> claims;
};

// Links of a network of `lanes` lanes from 0 to `goal`; each node leads on in its own lane and the next.
std::vector<std::pair<int, int>> lane_links(int claims, int lanes, int& goal) {
    std::vector<std::pair<int, int>> links;
    const int layers = std::max(2, (claims - 2 * lanes) / (2 * lanes) + 1);
    const auto node = [&](int layer, int lane) { return 1 + layer * lanes + lane; };
    goal = 1 + layers * lanes;
    for (int lane = 0; lane < lanes; ++lane) links.emplace_back(0, node(0, lane));
    for (int layer = 0; layer + 1 < layers; ++layer) {
        for (int lane = 0; lane < lanes; ++lane) {
            links.emplace_back(node(layer, lane), node(layer + 1, lane));
            links.emplace_back(node(layer, lane), node(layer + 1, (lane + 1) % lanes));
        }
    }
    for (int lane = 0; lane < lanes; ++lane) links.emplace_back(node(layers - 1, lane), goal);
    return links;
}

Made make(const Wanted& wanted, const std::filesystem::path& folder) {
    std::mt19937_64 random(wanted.seed);
    Made made;
    made.store = std::make_unique<Store>(Store::create(folder, {"", "", "bench", "2026-01-01T00:00:00Z"}));
    int goal = 0;
    auto links = lane_links(wanted.claims, std::max(1, wanted.lanes), goal);
    if (wanted.lanes == 0) {
        links.clear();
        for (int i = 0; i < wanted.claims; ++i) links.emplace_back(2 * i, 2 * i + 1);
    }
    ChangeHead head;
    head.verb = "note";
    head.time = "2026-01-02T00:00:00Z";
    Change change = made.store->begin(head);
    for (int s = 0; s < wanted.sources; ++s) {
        Source source;
        source.key = "source:s" + std::to_string(s);
        source.reliability = .5 + .004 * static_cast<double>(random() % 100);
        change.put(source);
    }
    std::vector<Claim> claims;
    for (const auto& [from, to] : links) {
        claims.push_back({"item:i" + std::to_string(from), "replaced-by", {Value::Type::entity, "item:i" + std::to_string(to), ""}, "", "", false});
        change.put(claims.back());
    }
    for (int i = 0; i < wanted.readings; ++i) {
        const std::size_t which = static_cast<std::size_t>(i) < claims.size() ? static_cast<std::size_t>(i) : random() % claims.size();
        Evidence evidence;
        evidence.claim = id_of(claims[which]);
        evidence.source = "source:s" + std::to_string(random() % static_cast<std::uint64_t>(wanted.sources));
        evidence.at = "page=" + std::to_string(i);
        const bool second = static_cast<std::size_t>(i) >= claims.size();
        evidence.stance = second && static_cast<double>(random() % 1000) < wanted.against * 1000 ? Stance::against : Stance::in_favour;
        change.put(evidence);
    }
    change.commit();
    made.snapshot = made.store->snapshot();
    for (const Claim& claim : claims) made.claims.push_back(*made.snapshot->find_claim(claim));
    if (wanted.lanes == 0) {
        for (int i = 0; i < wanted.claims / 5; ++i) {
            made.chains.emplace_back();
            for (int k = 0; k < 5; ++k) made.chains.back().push_back(made.claims[static_cast<std::size_t>(5 * i + k)]);
        }
        return made;
    }
    std::vector<std::pair<int, Chain>> at{{0, {}}};
    while (!at.empty()) {
        auto [here, chain] = at.back();
        at.pop_back();
        if (here == goal) made.chains.push_back(chain);
        for (std::size_t i = 0; i < links.size(); ++i) {
            if (links[i].first != here) continue;
            Chain longer = chain;
            longer.push_back(made.claims[i]);
            at.emplace_back(links[i].second, std::move(longer));
        }
    }
    return made;
}

void measure_joint(Numbers& numbers, const std::string& name, Wanted wanted, const std::filesystem::path& folder) {
    std::vector<double> times, nodes, sampled, widths;
    for (wanted.seed = 0; wanted.seed < 15; ++wanted.seed) {
        const auto place = folder / (name + std::to_string(wanted.seed));
        Made made = make(wanted, place);
        Weigher weigher(*made.snapshot);
        WeighOptions options;
        options.explain = false;
        const double begin = cpu_ms();
        const JointWeight joint = weigher.joint(made.chains, options);
        times.push_back(cpu_ms() - begin);
        nodes.push_back(static_cast<double>(joint.nodes));
        sampled.push_back(joint.method == Method::sampled ? 1 : 0);
        widths.push_back(joint.normalised ? joint.half_width : 1);
    }
    numbers[name + "_ms"] = percentile(times, .5);
    numbers[name + "_p90_ms"] = percentile(times, .9);
    numbers[name + "_max_ms"] = percentile(times, 1);
    numbers[name + "_nodes"] = percentile(nodes, .5);
    numbers[name + "_sampled_of_15"] = static_cast<double>(std::count(sampled.begin(), sampled.end(), 1.0));
    numbers[name + "_half_width"] = percentile(widths, 1);
}

// The answer of a book after a write that touched something else: reading the case anew and looking it up.
void measure_kept(Numbers& numbers, Wanted wanted, const std::filesystem::path& folder) {
    std::vector<double> fresh, kept;
    for (wanted.seed = 0; wanted.seed < 15; ++wanted.seed) {
        Made made = make(wanted, folder / ("kept" + std::to_string(wanted.seed)));
        const auto book = std::make_shared<AnswerBook>();
        WeighOptions options;
        options.explain = false;
        for (std::vector<double>* const times : {&fresh, &kept}) {
            const auto snapshot = made.store->snapshot();
            Weigher weigher(*snapshot, book);
            const double begin = cpu_ms();
            weigher.joint(made.chains, options);
            times->push_back(cpu_ms() - begin);
            ChangeHead head;
            head.verb = "note";
            head.time = "2026-01-03T00:00:00Z";
            Change change = made.store->begin(head);
            change.put(Claim{"item:elsewhere", "replaced-by", {Value::Type::entity, "item:later", ""}, "", "", false});
            change.commit();
        }
    }
    numbers["kept_fresh_ms"] = percentile(fresh, .5);
    numbers["kept_found_ms"] = percentile(kept, .5);
    numbers["kept_found_p90_ms"] = percentile(kept, .9);
}

// The answer to one claim, asked again with the reliability of one source changed.
void measure_update(Numbers& numbers, const std::filesystem::path& folder) {
    Store store = Store::create(folder / "update", {"", "", "bench", "2026-01-01T00:00:00Z"});
    ChangeHead head;
    head.verb = "note";
    head.time = "2026-01-02T00:00:00Z";
    Change change = store.begin(head);
    const Claim claim{"shape:a", "treated-with", {Value::Type::entity, "treatment:b", ""}, "", "", false};
    change.put(claim);
    for (int i = 0; i < 75; ++i) {
        Source source;
        source.key = "source:s" + std::to_string(i);
        source.reliability = .02 + .004 * i;
        source.family = "f" + std::to_string(i % 12);
        source.family_kind = "circle";
        change.put(source);
        Evidence evidence;
        evidence.claim = id_of(claim);
        evidence.source = source.key;
        evidence.stance = i % 3 == 0 ? Stance::against : Stance::in_favour;
        change.put(evidence);
    }
    change.commit();
    const auto snapshot = store.snapshot();
    Weigher weigher(*snapshot);
    const ClaimRef ref = *snapshot->find_claim(claim);
    const double begin = cpu_ms();
    numbers["explained_nodes"] = static_cast<double>(weigher.weigh(ref).nodes);
    numbers["explained_ms"] = cpu_ms() - begin;
    std::vector<double> times;
    for (int i = 0; i < 50; ++i) {
        WeighOptions options;
        options.explain = false;
        options.what_if["source:s" + std::to_string(i)] = .01 * i / 50;
        const double start = cpu_ms();
        weigher.weigh(ref, options);
        times.push_back(cpu_ms() - start);
    }
    numbers["changed_chance_ms"] = percentile(times, .5);
}

}  // namespace

Numbers weighing(std::uint64_t, const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    Numbers numbers;
    measure_joint(numbers, "joint_17_28_6", {17, 28, 6, .2, 3}, folder);
    measure_joint(numbers, "joint_27_48_8", {27, 48, 8, .2, 3}, folder);
    measure_joint(numbers, "joint_37_63_12", {37, 63, 12, .2, 3}, folder);
    measure_joint(numbers, "joint_40_75_12", {40, 75, 12, .2, 4}, folder);
    measure_joint(numbers, "joint_200_320_40", {200, 320, 40, .03, 0}, folder);
    measure_joint(numbers, "joint_200_320_40_contradicted", {200, 320, 40, .2, 0}, folder);
    measure_kept(numbers, {40, 75, 12, .2, 4}, folder);
    measure_update(numbers, folder);
    return numbers;
}

}  // namespace saggar::bench
