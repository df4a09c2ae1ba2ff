#include "queries/chain_search.h"

#include <catch2/catch.hpp>
#include <map>
#include <random>
#include <set>

using namespace saggar;

namespace {

const Vocabulary& letters() {
    static const Vocabulary vocabulary = [] {
        Problems problems;
        auto read = Vocabulary::parse(R"({"vocabulary": "letters", "version": "1", "kinds": {"t": {"label": "t"}},
            "relations": {"a": {"from": ["t"], "to": ["t"], "inverse": "a-of", "label": "a"},
                          "b": {"from": ["t"], "to": ["t"], "inverse": "b-of", "label": "b"},
                          "s": {"from": ["t"], "to": ["t"], "symmetric": true, "label": "s"}}})",
                                      problems);
        REQUIRE(read);
        return *read;
    }();
    return vocabulary;
}

PathExpression path_of(const std::string& text) {
    Problems problems;
    auto path = parse_path(text, letters(), problems);
    REQUIRE(path);
    return *path;
}

// A handful of claims with made-up supports; relation ids are 1 + the index in the vocabulary.
struct Claims {
    std::map<std::uint64_t, std::vector<Link>> at;
    std::map<std::uint64_t, double> support;

    void add(std::uint64_t from, const char* relation, std::uint64_t to, double with_support) {
        const RelationId id{letters().find_use(relation)->relation + 1};
        const ClaimRef claim{EntityId{from}, id, support.size() + 1};
        support[claim.number] = with_support;
        at[from].push_back({EntityId{to}, claim, true});
        at[to].push_back({EntityId{from}, claim, false});
    }
    const std::vector<Link>& links(EntityId id) const {
        static const std::vector<Link> none;
        const auto found = at.find(id.value);
        return found == at.end() ? none : found->second;
    }

    // Gives only what was chosen, as a view of the store does.
    static constexpr bool reads_by_choice = true;
    mutable std::vector<LinkChoice> choices;
    LinkChoiceNumber choose(const LinkChoice& choice) const {
        choices.push_back(choice);
        return static_cast<LinkChoiceNumber>(choices.size());
    }
    std::vector<Link> links(EntityId id, LinkChoiceNumber choice) const {
        std::vector<Link> out;
        for (const Link& link : links(id))
            if (choice == 0 || choices[choice - 1].takes(link.claim.relation, link.forward)) out.push_back(link);
        return out;
    }
};

ChainQuestion question_of(const Claims& claims, std::uint64_t from, const std::set<std::uint64_t>& goals) {
    ChainQuestion question;
    question.from = EntityId{from};
    question.is_goal = [goals](EntityId id) { return goals.count(id.value) != 0; };
    question.support = [&claims](ClaimRef claim) { return claims.support.at(claim.number); };
    question.relation_index = {3, 0, 1, 2};
    return question;
}

// The slow twin: tries every chain that passes no entity twice, and reads it with the machine.
struct Twin {
    const Claims& claims;
    PathMachine machine;
    const ChainQuestion& question;
    std::vector<double> weights;
    std::set<std::uint64_t> passed;

    void walk(EntityId here, PathMachine::State state, double product) {
        passed.insert(here.value);
        for (const Link& link : claims.links(here)) {
            if (passed.count(link.other.value)) continue;
            const double support = claims.support.at(link.claim.number);
            if (support == 0) continue;
            const auto next = machine.step(state, question.relation_index[link.claim.relation.value], link.forward);
            if (next == PathMachine::stuck) continue;
            if (machine.accepts(next) && question.is_goal(link.other)) weights.push_back(product * support);
            walk(link.other, next, product * support);
        }
        passed.erase(here.value);
    }
};

std::vector<double> twin_supports(const Claims& claims, const PathExpression& path, const ChainQuestion& question) {
    Twin twin{claims, PathMachine(path), question, {}, {}};
    twin.walk(question.from, twin.machine.start(), 1);
    std::sort(twin.weights.begin(), twin.weights.end(), std::greater<>());
    return twin.weights;
}

std::vector<double> supports(const FoundChains& found, const Claims& claims) {
    std::vector<double> out;
    for (const FoundChain& chain : found.chains) {
        double product = 1;
        for (const ChainStep& step : chain.steps) product *= claims.support.at(step.claim.number);
        CHECK(std::exp(-chain.weight) == Approx(product));
        out.push_back(product);
    }
    return out;
}

void check_equal(const std::vector<double>& a, const std::vector<double>& b) {
    REQUIRE(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) CHECK(a[i] == Approx(b[i]));
}

// That the chain holds together, fits the path, and passes no entity twice.
void check_sound(const FoundChain& chain, const Claims& claims, const PathExpression& path, const ChainQuestion& question) {
    PathMachine machine(path);
    PathMachine::State state = machine.start();
    EntityId here = question.from;
    std::set<std::uint64_t> passed{here.value};
    for (const ChainStep& step : chain.steps) {
        CHECK(step.from == here);
        const std::vector<Link>& links = claims.links(here);
        CHECK(std::count(links.begin(), links.end(), Link{step.to, step.claim, step.forward}) >= 1);
        state = machine.step(state, question.relation_index[step.claim.relation.value], step.forward);
        REQUIRE(state != PathMachine::stuck);
        here = step.to;
        CHECK(passed.insert(here.value).second);
    }
    CHECK(machine.accepts(state));
    CHECK(question.is_goal(here));
}

}  // namespace

TEST_CASE("chains are found in the order of their products", "[chain_search]") {
    Claims claims;
    claims.add(1, "a", 2, .9);
    claims.add(2, "b", 4, .5);
    claims.add(1, "b", 3, .8);
    claims.add(4, "a", 3, .7);  // walked back: 3 to 4
    const ChainQuestion question = question_of(claims, 1, {4});
    const FoundChains found = find_chains(claims, path_of("(a|b|^a)+"), question, {});
    check_equal(supports(found, claims), {.56, .45});
    CHECK(found.chains[0].steps[1] == ChainStep{ClaimRef{EntityId{4}, RelationId{1}, 4}, EntityId{3}, EntityId{4}, false});
    CHECK(found.complete);
    check_equal(supports(find_chains(claims, path_of("(a|b)+"), question, {}), claims), {.45});
    CHECK(find_chains(claims, path_of("a+"), question, {}).chains.empty());
}

TEST_CASE("a claim without support is not followed", "[chain_search]") {
    Claims claims;
    claims.add(1, "a", 2, 0);
    claims.add(1, "b", 2, .1);
    check_equal(supports(find_chains(claims, path_of("a|b"), question_of(claims, 1, {2}), {}), claims), {.1});
}

TEST_CASE("a path that must double back finds the best chain that does not", "[chain_search]") {
    // The lightest walk that fits a/b/a is 1-2-1-2; no entity may be passed twice, so 1-3-4-2 is the answer.
    Claims claims;
    claims.add(1, "a", 2, .99);
    claims.add(2, "b", 1, .99);
    claims.add(1, "a", 3, .2);
    claims.add(3, "b", 4, .2);
    claims.add(4, "a", 2, .2);
    ChainQuestion question = question_of(claims, 1, {2});
    check_equal(supports(find_chains(claims, path_of("a/b/a"), question, {}), claims), {.008});
    question.only_goal = EntityId{2};
    check_equal(supports(find_chains(claims, path_of("a/b/a"), question, {}), claims), {.008});
}

TEST_CASE("wanted chains only, and limits are said", "[chain_search]") {
    Claims claims;
    for (std::uint64_t middle = 2; middle < 12; ++middle) {
        claims.add(1, "a", middle, .9);
        claims.add(middle, "b", 99, static_cast<double>(middle) / 20);
    }
    const ChainQuestion question = question_of(claims, 1, {99});
    ChainLimits limits;
    limits.best = 2;
    const auto even = [](const FoundChain& chain) { return chain.steps[0].to.value % 2 == 0; };
    check_equal(supports(find_chains(claims, path_of("a/b"), question, limits, even), claims), {.45, .36});
    limits.searches = 1;
    CHECK_FALSE(find_chains(claims, path_of("a/b"), question, limits).complete);
}

TEST_CASE("chains equal those of the slow twin", "[chain_search]") {
    std::mt19937 random(99);
    const std::vector<std::string> paths{"a+",       "(a|b)+",   "(a|^b|s)+",  "a/b*/a",       "!(a)+",    "(!()|^!())+",
                                         "(a/b)+",   "(a/^b)*",  "s/a?/^(a|b)", "^(a/b/s)",    "(a|b/b)+", "a-of/(s|b)*",
                                         "(a|b)/(a|s)/(b|^a)"};
    std::size_t chains = 0;
    for (int round = 0; round < 500; ++round) {
        Claims claims;
        const std::uint64_t entities = 3 + random() % 4;
        const std::size_t count = random() % 18;
        for (std::size_t i = 0; i < count; ++i) {
            const std::uint64_t from = 1 + random() % entities;
            const std::uint64_t to = 1 + random() % entities;
            const std::vector<const char*> names{"a", "b", "s"};
            const char* const name = names[random() % 3];
            const double support = static_cast<double>(random() % 11) / 10;
            claims.add(from, name, to, support);
        }
        const std::string text = paths[static_cast<std::size_t>(round) % paths.size()];
        const PathExpression path = path_of(text);
        const bool one_goal = round % 2;
        const std::uint64_t goal = 1 + random() % entities;
        ChainQuestion question = question_of(claims, 1, one_goal ? std::set<std::uint64_t>{goal} : std::set<std::uint64_t>{2, 3});
        if (one_goal) question.only_goal = EntityId{goal};
        INFO("round " << round << ", path " << text);
        const std::vector<double> expected = twin_supports(claims, path, question);
        ChainLimits limits;
        limits.best = 100000;
        const FoundChains all = find_chains(claims, path, question, limits);
        CHECK(all.complete);
        check_equal(supports(all, claims), expected);
        for (const FoundChain& chain : all.chains) check_sound(chain, claims, path, question);
        limits.best = 3;
        limits.ties = 0;
        check_equal(supports(find_chains(claims, path, question, limits), claims),
                    {expected.begin(), expected.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(3, expected.size()))});
        chains += expected.size();
    }
    CHECK(chains > 500);
}
