// Dating against a twin: plain records, orders written out by hand, bounds pushed round until nothing moves.
#include <catch2/catch.hpp>
#include <map>
#include <random>
#include <set>

#include "kg/time/span.h"
#include "queries/dating.h"
#include "queries/dating_years.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using saggar::testing::SmallGraph;

namespace {

// A small works: pieces of items of one shape, with marks. Dates are years.
struct Works {
    std::vector<Claim> claims;
    std::vector<std::string> things;
};

Works random_works(std::mt19937& random, int dated) {
    Works works;
    const auto draw = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    const auto add = [&](const std::string& subject, const std::string& relation, const std::string& object,
                         Value::Type type) {
        const Claim claim{subject, relation, {type, object, ""}, "", "", false};
        for (const Claim& other : works.claims) {
            if (other == claim) return;
        }
        works.claims.push_back(claim);
    };
    const std::string pieces[] = {"piece:a", "piece:b"};
    const std::string items[] = {"item:m", "item:n"};
    const std::string marks[] = {"mark:x", "mark:y"};
    for (const auto& piece : pieces) {
        add(piece, "instance-of", items[draw(0, 1)], Value::Type::entity);
        add(piece, "bears-mark", marks[draw(0, 1)], Value::Type::entity);
    }
    for (const auto& item : items) add(item, "of-shape", "shape:s", Value::Type::entity);
    for (int i = 0; i < dated; ++i) {
        const int first = draw(1930, 1945);
        const std::string year = std::to_string(first);
        const std::string run = year + "/" + std::to_string(first + draw(0, 12));
        const int what = draw(0, 5);
        if (what == 0) add(pieces[draw(0, 1)], "made-in-year", run, Value::Type::date);
        if (what == 1) add(items[draw(0, 1)], "modelled-in", year, Value::Type::date);
        if (what == 2) add(items[draw(0, 1)], draw(0, 1) ? "introduced-in" : "dropped-in", run, Value::Type::date);
        if (what == 3) add("shape:s", draw(0, 1) ? "introduced-in" : "dropped-in", run, Value::Type::date);
        if (what == 4) add(marks[draw(0, 1)], "used-between", run, Value::Type::date);
        if (what == 5) add("shape:s", "modelled-in", run, Value::Type::date);
    }
    works.things = {"piece:a", "piece:b", "item:m", "item:n", "shape:s", "mark:x", "mark:y"};
    return works;
}

// The twin: lower and upper day of every point, by the orders of the standard vocabulary as one reads them there.
class Twin {
public:
    explicit Twin(const std::vector<Claim>& claims) {
        for (const Claim& claim : claims) take(claim);
        for (const auto& [piece, item] : item_of_) {
            order(item + " modelled", piece + " made", 0);
            order(item + " introduced", piece + " made", 183);
            order(piece + " made", item + " dropped", 366);
            for (const std::string& shape : shapes_of_[item]) {
                order(shape + " modelled", piece + " made", 0);
                order(shape + " introduced", piece + " made", 366);
                order(piece + " made", shape + " dropped", 366);
            }
        }
        for (const auto& [piece, mark] : mark_of_) {
            order(mark + " first-used", piece + " made", 0);
            order(piece + " made", mark + " last-used", 366);
        }
        for (const char* thing : {"item:m", "item:n", "shape:s"}) {
            order(std::string(thing) + " modelled", std::string(thing) + " introduced", 0);
            order(std::string(thing) + " introduced", std::string(thing) + " dropped", 0);
        }
        for (const char* mark : {"mark:x", "mark:y"})
            order(std::string(mark) + " first-used", std::string(mark) + " last-used", 0);
        settle();
    }
    bool consistent() const { return consistent_; }
    std::int64_t low(const std::string& point) { return lows_.count(point) ? lows_[point] : INT64_MIN; }
    std::int64_t high(const std::string& point) { return highs_.count(point) ? highs_[point] : INT64_MAX; }

private:
    void take(const Claim& claim) {
        if (claim.relation == "instance-of") item_of_.insert({claim.subject, claim.object.text});
        if (claim.relation == "bears-mark") mark_of_.insert({claim.subject, claim.object.text});
        if (claim.relation == "of-shape") shapes_of_[claim.subject].insert(claim.object.text);
        if (claim.object.type != Value::Type::date) return;
        const auto& text = claim.object.text;
        const auto first = time::day_of({std::stoi(text.substr(0, 4)), 1, 1}).count;
        const auto last = time::day_of({std::stoi(text.substr(text.size() - 4)), 12, 31}).count;
        if (claim.relation == "used-between") {
            narrow(claim.subject + " first-used", first, time::day_of({std::stoi(text.substr(0, 4)), 12, 31}).count);
            narrow(claim.subject + " last-used", time::day_of({std::stoi(text.substr(text.size() - 4)), 1, 1}).count,
                   last);
            return;
        }
        static const std::map<std::string, std::string> points{{"made-in-year", " made"},
                                                               {"modelled-in", " modelled"},
                                                               {"introduced-in", " introduced"},
                                                               {"dropped-in", " dropped"}};
        narrow(claim.subject + points.at(claim.relation), first, last);
    }
    void narrow(const std::string& point, std::int64_t first, std::int64_t last) {
        lows_[point] = std::max(low(point), first);
        highs_[point] = std::min(high(point), last);
    }
    void order(const std::string& earlier, const std::string& later, std::int64_t slack) {
        orders_.push_back({earlier, later, slack});
    }
    void settle() {
        for (bool moved = true; moved;) {
            moved = false;
            for (const auto& [earlier, later, slack] : orders_) {
                if (lows_.count(earlier) && low(earlier) - slack > low(later))
                    lows_[later] = low(earlier) - slack, moved = true;
                if (highs_.count(later) && high(later) + slack < high(earlier))
                    highs_[earlier] = high(later) + slack, moved = true;
            }
        }
        for (const auto& [point, day] : lows_) {
            if (highs_.count(point) && day > highs_[point]) consistent_ = false;
        }
    }
    struct Order {
        std::string earlier, later;
        std::int64_t slack;
    };
    std::vector<Order> orders_;
    std::set<std::pair<std::string, std::string>> item_of_, mark_of_;
    std::map<std::string, std::set<std::string>> shapes_of_;
    std::map<std::string, std::int64_t> lows_, highs_;
    bool consistent_ = true;
};

void fill(SmallGraph& graph, const std::vector<Claim>& claims) {
    for (const Claim& claim : claims) {
        graph.add(claim);
        graph.witness(claim, .9);
    }
    graph.write();
}

DatingAnswer date(SmallGraph& graph, const std::string& key) {
    DatingQuestion question;
    question.thing = graph.snapshot().need(key);
    return date_thing(graph.snapshot(), graph.weigher(), question);
}

}  // namespace

TEST_CASE("where all can hold, every point has the range of the twin, and more claims never widen it") {
    int compared = 0;
    for (unsigned seed = 1; seed <= 60 && compared < 15; ++seed) {
        std::mt19937 random(seed);
        const Works works = random_works(random, 5);
        if (!Twin(works.claims).consistent()) continue;
        ++compared;
        SmallGraph graph;
        std::vector<Claim> before = works.claims;
        const Claim last = before.back();
        before.pop_back();
        fill(graph, before);
        std::map<std::string, std::pair<time::Day, time::Day>> ranges;
        for (int round = 0; round < 2; ++round) {
            if (round == 1) fill(graph, {last});
            Twin twin(round == 0 ? before : works.claims);
            for (const std::string& thing : works.things) {
                if (!graph.snapshot().find(thing)) continue;
                const DatingAnswer answer = date(graph, thing);
                CHECK(answer.contradictions.empty());
                for (const DatedPoint& point : answer.points) {
                    const std::string name = thing + " " + point.point;
                    INFO("seed " << seed << " " << name);
                    REQUIRE(point.earliest.count == twin.low(name));
                    REQUIRE(point.latest.count == twin.high(name));
                    if (round == 1 && ranges.count(name)) {
                        CHECK(point.earliest >= ranges[name].first);
                        CHECK(point.latest <= ranges[name].second);
                    }
                    ranges[name] = {point.earliest, point.latest};
                }
            }
        }
    }
    CHECK(compared >= 10);
}

TEST_CASE("every contradiction is minimal to the twin, and what is left can hold") {
    int met = 0;
    for (unsigned seed = 100; seed <= 200 && met < 25; ++seed) {
        std::mt19937 random(seed);
        const Works works = random_works(random, 10);
        if (Twin(works.claims).consistent()) continue;
        SmallGraph graph;
        fill(graph, works.claims);
        std::map<ClaimRef, Claim> claim_of;
        for (const Claim& claim : works.claims) claim_of[graph.ref(claim)] = claim;
        for (const std::string& thing : works.things) {
            if (!graph.snapshot().find(thing)) continue;
            const DatingAnswer answer = date(graph, thing);
            std::set<ClaimRef> aside;
            for (const DatingContradiction& contradiction : answer.contradictions) {
                ++met;
                aside.insert(contradiction.set_aside);
                std::vector<Claim> whole;
                for (const auto& one : contradiction.claims) whole.push_back(claim_of.at(one.claim));
                INFO("seed " << seed << " " << thing);
                REQUIRE_FALSE(Twin(whole).consistent());
                for (std::size_t i = 0; i < whole.size(); ++i) {
                    std::vector<Claim> fewer = whole;
                    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
                    REQUIRE(Twin(fewer).consistent());
                }
            }
            for (const DatedPoint& point : answer.points) CHECK(point.earliest <= point.latest);
        }
    }
    CHECK(met >= 25);
}

TEST_CASE("the figures by year are those of playing every world") {
    // Each claim has one witness of its own, so worlds are sets of claims with independent chances.
    for (unsigned seed = 300; seed < 312; ++seed) {
        std::mt19937 random(seed);
        Works works = random_works(random, 6);
        SmallGraph graph;
        std::vector<double> chances;
        for (const Claim& claim : works.claims) {
            graph.add(claim);
            chances.push_back(.3 + .05 * static_cast<double>(random() % 13));
            graph.witness(claim, chances.back());
        }
        graph.write();
        DatingQuestion question;
        question.thing = graph.snapshot().need("piece:a");
        const TimeRules rules = TimeRules::of(graph.snapshot().vocabulary());
        const DatingYears years = date_years(graph.snapshot(), graph.weigher(), rules, question);
        REQUIRE(years.method == Method::exact);
        CHECK(years.complete);
        double consistent = 0;
        std::map<std::int64_t, double> possible, supported;
        for (std::uint32_t world = 0; world < (1u << works.claims.size()); ++world) {
            std::vector<Claim> kept;
            double chance = 1;
            for (std::size_t i = 0; i < works.claims.size(); ++i) {
                const bool holds = (world >> i & 1u) != 0;
                chance *= holds ? chances[i] : 1 - chances[i];
                if (holds) kept.push_back(works.claims[i]);
            }
            Twin twin(kept);
            const auto low = twin.low("piece:a made"), high = twin.high("piece:a made");
            if (low > high) continue;
            consistent += chance;
            for (const DatingYear& year : years.years) {
                const auto first = time::day_of({year.year, 1, 1}).count,
                           last = time::day_of({year.year, 12, 31}).count;
                if (low <= last && high >= first) possible[year.year] += chance;
                if (low >= first && high <= last) supported[year.year] += chance;
            }
        }
        INFO("seed " << seed);
        CHECK(years.contradiction == Approx(1 - consistent).margin(1e-9));
        for (const DatingYear& year : years.years) {
            INFO("year " << year.year);
            CHECK(year.possible == Approx(possible[year.year] / consistent).margin(1e-9));
            CHECK(year.supported == Approx(supported[year.year] / consistent).margin(1e-9));
            CHECK(year.supported <= year.possible);
        }
    }
}
