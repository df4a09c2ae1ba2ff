// Kept answers: always the fresh ones bit for bit, and worked out again only where something they read was touched.
#include "kg/weigh/answer_book.h"

#include <fmt/format.h>
#include <rapidcheck.h>
#include <catch2/catch.hpp>

#include <random>

#include "kg/model/vocabulary.h"
#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using namespace saggar::testing;

namespace {

// Every field, numbers to the last bit.
struct Bits {
    std::string text;
    Bits& operator<<(double value) { return add(fmt::format("{:a}", value)); }
    Bits& operator<<(std::size_t value) { return add(fmt::format("{}", value)); }
    Bits& operator<<(bool value) { return add(value ? "yes" : "no"); }
    Bits& operator<<(const std::string& value) { return add(value); }
    Bits& operator<<(const ClaimRef& ref) {
        return add(fmt::format("{}/{}/{}", ref.subject.value, ref.relation.value, ref.number));
    }
    Bits& operator<<(const ContentId& id) { return add(id.full()); }
    Bits& operator<<(const Masses& m) { return *this << m.for_only << m.against_only << m.both << m.neither; }
    Bits& operator<<(const Band& b) { return *this << b.independent << b.usual << b.dependent << b.unknown; }
    Bits& operator<<(const Influence& i) { return *this << std::size_t{i.source.value} << i.slope << i.without; }
    Bits& operator<<(const Ground& g) { return *this << g.evidence << g.listings << g.arguments << g.probability; }
    Bits& operator<<(const ReadingShown& r) {
        return *this << r.record << r.is_listing << std::size_t{r.source.value} << (r.stance == Stance::against)
                     << r.reliability << word_for(r.role) << std::size_t{r.root.value};
    }
    Bits& operator<<(const std::optional<Contradiction>& worst) {
        return worst ? *this << worst->claim << worst->both : add("none");
    }
    template <class T>
    Bits& operator<<(const std::vector<T>& list) {
        *this << list.size();
        for (const T& one : list) *this << one;
        return *this;
    }
    Bits& add(const std::string& part) {
        text += part + '\n';
        return *this;
    }
};

std::string bits_of(const Weight& w) {
    Bits bits;
    bits << w.claim << w.masses << w.support << w.possibility << word_for(w.method) << w.half_width << w.worlds
         << word_for(w.clarity) << w.normalised << w.words << w.band << w.grounds_for << w.grounds_against
         << w.influence << w.roots_for << w.roots_against << w.readings << w.worst << w.claims << w.nodes << w.profile
         << w.betting.value_or(-1);
    return bits.text;
}
std::string bits_of(const JointWeight& w) {
    Bits bits;
    bits << w.raw << w.conditioned << w.uncontested << w.consistent << word_for(w.method) << w.half_width << w.worlds
         << w.normalised << w.worst << w.band << w.influence << w.claims << w.nodes << w.profile;
    return bits.text;
}

// A few graphs that have nothing in common, in one store.
constexpr int islands = 3;
class Islands {
public:
    explicit Islands(std::uint64_t first = 300'000) {
        for (int i = 0; i < islands; ++i) {
            graphs.push_back(random_graph(first + static_cast<std::uint64_t>(i), {4, 3, 6, 1, 2}));
            while (graphs.back().claims.size() < 3) graphs.back().claims.push_back(true);
            for (const Record& record : graphs.back().records()) store.add(record);
        }
        store.write();
    }

    // Something is written to one of the graphs: of any kind that an answer may read.
    void write_to(int island, std::mt19937_64& dice) {
        RandomGraph& graph = graphs[static_cast<std::size_t>(island)];
        const auto below = [&](std::size_t n) { return static_cast<int>(dice() % n); };
        const Claim claim = graph.claim(below(graph.claims.size()));
        const std::string source = graph.source_key(below(graph.sources.size()));
        std::vector<ContentId>& written = written_to[static_cast<std::size_t>(island)];
        std::vector<Record> change;
        switch (below(8)) {
            case 0: {  // a reading
                Evidence more;
                more.claim = id_of(claim);
                more.source = source;
                more.at = fmt::format("page={}", ++pages);
                more.stance = below(3) ? Stance::in_favour : Stance::against;
                if (below(4) == 0) more.certainty = "perhaps";
                if (below(4) == 0 && !written.empty())
                    more.corrects = written[static_cast<std::size_t>(below(written.size()))];
                written.push_back(id_of(more));
                change.push_back(more);
                break;
            }
            case 1:  // something written before is taken back
                if (written.empty()) return;
                change.push_back(Withdrawal{written.back(), "a test"});
                written.pop_back();
                break;
            case 2:
            case 3: {  // a source described anew: its reliability, family, copies
                Source described;
                described.key = source;
                described.reliability = .05 + .01 * below(90);
                if (below(2)) {
                    described.family = graph.name + "-family-" + std::to_string(below(2));
                    described.family_kind = below(2) ? "circle" : "author";
                }
                if (below(3) == 0)
                    described.copied_from.push_back(
                        {fmt::format("source:{}-root", graph.name), .1 * (1 + below(10)), 1});
                if (below(4) == 0) described.dependence = .25 * below(5);
                change.push_back(described);
                break;
            }
            case 4: {  // a list
                Listing list;
                list.source = source;
                list.subject = graph.subject();
                list.relation = below(2) ? "modelled-by" : "treated-with";
                list.completeness = .1 * (1 + below(10));
                written.push_back(id_of(list));
                change.push_back(list);
                break;
            }
            case 5: {  // an argument
                Argument argument;
                argument.premises = {id_of(graph.claim(below(graph.claims.size())))};
                argument.conclusion = id_of(claim);
                argument.strength = .1 * (1 + below(10));
                argument.reason = "a test";
                argument.stance = below(3) ? Stance::in_favour : Stance::against;
                written.push_back(id_of(argument));
                change.push_back(argument);
                break;
            }
            case 6: {  // a new rival
                const Claim rival{graph.subject(),
                                  "modelled-by",
                                  {Value::Type::entity, fmt::format("person:new-{}", ++pages), ""},
                                  "",
                                  "",
                                  false};
                change.push_back(rival);
                Evidence reading;
                reading.claim = id_of(rival);
                reading.source = source;
                written.push_back(id_of(reading));
                change.push_back(reading);
                break;
            }
            default: {  // two names for one thing, accepted
                const Claim other{graph.subject() + "-alias", claim.relation, claim.object, "", "", false};
                const Claim same{
                    graph.subject(), "same-as", {Value::Type::entity, graph.subject() + "-alias", ""}, "", "", false};
                change.insert(change.end(), {other, same});
                for (const Claim& read : {other, same}) {
                    Evidence reading;
                    reading.claim = id_of(read);
                    reading.source = source;
                    change.push_back(reading);
                }
                Ruling ruling;
                ruling.claim = id_of(same);
                ruling.decision = below(2) ? Ruling::Decision::accepted : Ruling::Decision::rejected;
                ruling.reasons = "a test";
                ruling.decided_by = "tester";
                ruling.decided_on = "2026-01-01";
                change.push_back(ruling);
            }
        }
        for (const Record& record : change) store.add(record);
        store.write();
    }

    // Asks everything about one graph.
    std::vector<std::string> answers(int island, Weigher& weigher) {
        const RandomGraph& graph = graphs[static_cast<std::size_t>(island)];
        std::vector<std::string> all;
        Chain together;
        for (int i = 0; i < static_cast<int>(graph.claims.size()); ++i) {
            const ClaimRef ref = store.ref(graph.claim(i));
            together.push_back(ref);
            all.push_back(bits_of(weigher.weigh(ref)));
            Bits bits;
            bits << weigher.masses(ref) << weigher.support_alone(ref);
            all.push_back(bits.text);
        }
        const Chain chains[] = {together};
        all.push_back(bits_of(weigher.joint(chains)));
        return all;
    }

    std::vector<RandomGraph> graphs;
    SmallGraph store;
    std::vector<ContentId> written_to[islands];
    int pages = 1000;
};

}  // namespace

TEST_CASE("a kept answer is the fresh one bit for bit, and what a write did not touch is not worked out again",
          "[answers]") {
    constexpr std::size_t writes_a_world = 12;  // then a new one, so that the graphs stay small
    const auto book = std::make_shared<AnswerBook>();
    std::unique_ptr<Islands> present;
    std::size_t steps = 0, recalled_all = 0, reworked = 0;
    const bool holds = rc::check("kept answers", [&] {
        std::mt19937_64 dice(*rc::gen::arbitrary<std::uint64_t>());
        if (steps % writes_a_world == 0) {
            present = std::make_unique<Islands>(1'000 * steps);
            Weigher first(present->store.snapshot(), book);
            for (int i = 0; i < islands; ++i) present->answers(i, first);
        }
        Islands& world = *present;
        const int touched = static_cast<int>(dice() % islands);
        world.write_to(touched, dice);
        Weigher kept(world.store.snapshot(), book), fresh(world.store.snapshot());
        for (int i = 0; i < islands; ++i) {
            const std::size_t before = book->worked_out();
            RC_ASSERT(world.answers(i, kept) == world.answers(i, fresh));
            const std::size_t anew = book->worked_out() - before;
            if (i != touched) {
                RC_ASSERT(anew == 0u);
                ++recalled_all;
            } else {
                reworked += anew > 0;
            }
        }
        ++steps;
    });
    CHECK(holds);
    CHECK(steps >= 2'000);
    CHECK(recalled_all == 2 * steps);
    CHECK(reworked > steps / 4);  // the writes did touch something
}

TEST_CASE("a changed profile or vocabulary gives other answers, and the old ones are there when it is changed back",
          "[answers]") {
    Islands world;
    const auto book = std::make_shared<AnswerBook>();
    const auto both = [&] {
        const auto snapshot = world.store.store().snapshot();
        Weigher kept(*snapshot, book), fresh(*snapshot);
        std::vector<std::string> all;
        for (int i = 0; i < islands; ++i) {
            const auto answers = world.answers(i, kept);
            CHECK(answers == world.answers(i, fresh));
            all.insert(all.end(), answers.begin(), answers.end());
        }
        return all;
    };
    const auto usual = both();
    const std::size_t first = book->worked_out();
    ChangeHead head;
    head.verb = "profile";
    head.time = "2026-01-03T00:00:00Z";
    world.store.store().set_profile(profile_with("\"within-source\": 0.5", "\"within-source\": 0.9"), head);
    CHECK(both() != usual);
    CHECK(book->worked_out() == 2 * first);
    world.store.store().set_profile(Profile::standard().document(), head);
    CHECK(both() == usual);
    CHECK(book->worked_out() == 2 * first);
    std::string vocabulary = Vocabulary::standard().document();
    const std::string at_most_one = "\"inverse\": \"modelled\", \"at-most-one\": true";
    vocabulary.replace(vocabulary.find(at_most_one), at_most_one.size(), "\"inverse\": \"modelled\"");
    world.store.store().set_vocabulary(vocabulary, head);
    CHECK(both() != usual);
}

TEST_CASE("a what-if and the question after it are worked out as if nothing had been asked", "[answers]") {
    Islands world;
    const auto book = std::make_shared<AnswerBook>();
    Weigher kept(world.store.snapshot(), book);
    for (const RandomGraph& graph : world.graphs) {
        for (int i = 0; i < static_cast<int>(graph.claims.size()); ++i) {
            const ClaimRef ref = world.store.ref(graph.claim(i));
            WeighOptions what_if, short_answer;
            what_if.what_if[graph.source_key(0)] = .123;
            short_answer.explain = false;
            kept.weigh(ref, what_if);
            Weigher fresh(world.store.snapshot());
            CHECK(bits_of(kept.weigh(ref, short_answer)) == bits_of(fresh.weigh(ref, short_answer)));
        }
    }
}

TEST_CASE("a book lets go what was not asked for the longest", "[answers]") {
    AnswerBook book(4);
    const auto id = [](int n) { return ContentHash("test").field(std::to_string(n)).finish(); };
    for (int i = 0; i < 100; ++i) {
        book.keep(id(i), Masses{});
        CHECK(book.find(id(0)));  // asked for all the time
    }
    CHECK(book.find(id(99)));
    CHECK_FALSE(book.find(id(50)));
    CHECK(book.worked_out() == 100);
}
