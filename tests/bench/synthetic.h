// A seeded synthetic graph of any size: for measurements only.
//
// N claims, 1.6 evidence edges each on average, degrees as in Zipf's law (the i-th most popular thing is named in
// proportion to 1/i): pieces are instances of items, items belong to shapes and carry treatments, lines are built on
// shapes and commissioned by companies. A third of the claims has a value for an object. Every third reading has a quote.
// The same N and seed give the same records in the same order on every machine.
#pragma once

#include <cmath>
#include <cstdint>
#include <fmt/format.h>
#include <string>

#include "kg/model/record.h"

namespace saggar::bench {

// SplitMix64 (Steele, Lea, Flood 2014): small, and the same everywhere.
class Random {
public:
    explicit Random(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next() {
        std::uint64_t z = state_ += 0x9E3779B97F4A7C15u;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
        return z ^ (z >> 31);
    }
    std::uint64_t below(std::uint64_t n) { return next() % n; }
    double unit() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
    // 0 most often, n - 1 least, each in proportion to 1 / (i + 1).
    std::uint64_t skewed(std::uint64_t n) {
        const double at = std::exp(unit() * std::log(static_cast<double>(n) + 1)) - 1;
        return std::min<std::uint64_t>(n - 1, static_cast<std::uint64_t>(at));
    }

private:
    std::uint64_t state_;
};

struct Sizes {
    std::uint64_t pieces, items, lines, treatments, shapes, companies, people, sources;
    explicit Sizes(std::uint64_t claims)
        : pieces(claims / 10 + 1), items(claims / 8 + 1), lines(claims / 50 + 1), treatments(claims / 30 + 1),
          shapes(claims / 200 + 1), companies(claims / 400 + 1), people(claims / 300 + 1), sources(claims / 50 + 1) {}
    std::uint64_t all() const { return pieces + items + lines + treatments + shapes + companies + people + sources; }
};

inline std::string key_of(const char* kind, std::uint64_t i) { return fmt::format("{}:{}{}", kind, kind[0], i); }

namespace detail {

inline const char* word(std::uint64_t i) {
    static const char* const words[] = {"the",   "order", "was",    "for",    "blue",   "ware",  "sent",   "with",
                                        "sample", "buyer", "asked", "larger", "saucer", "model", "kiln",   "again",
                                        "trial", "price", "second", "glaze",  "handle", "cast",  "letter", "agreed"};
    return words[i % (sizeof words / sizeof *words)];
}

inline Claim claim_between(std::string subject, const char* relation, std::string object) {
    Claim claim;
    claim.subject = std::move(subject);
    claim.relation = relation;
    claim.object = Value{Value::Type::entity, std::move(object), ""};
    return claim;
}

inline Claim random_claim(Random& random, const Sizes& n) {
    const std::uint64_t choice = random.below(100);
    const auto a = [&](const char* kind, std::uint64_t count) { return key_of(kind, random.below(count)); };
    const auto z = [&](const char* kind, std::uint64_t count) { return key_of(kind, random.skewed(count)); };
    const auto pair = [&](std::string from, const char* relation, std::string to) {
        return claim_between(std::move(from), relation, std::move(to));
    };
    std::string from = choice < 25   ? a("piece", n.pieces)
                       : choice < 75 ? a("item", n.items)
                       : choice < 88 ? a("line", n.lines)
                                     : a("treatment", n.treatments);
    if (choice < 10) return pair(std::move(from), "instance-of", a("item", n.items));
    if (choice < 15) return pair(std::move(from), "held-by", z("person", n.people));
    if (choice < 25) {
        Claim claim;
        claim.subject = std::move(from);
        claim.relation = "made-in-year";
        const auto year = 1920 + random.below(45);
        claim.object = Value{Value::Type::date, fmt::format("{}", year), ""};
        return claim;
    }
    if (choice < 38) return pair(std::move(from), "of-shape", z("shape", n.shapes));
    if (choice < 50) return pair(std::move(from), "treated-with", z("treatment", n.treatments));
    if (choice < 55) return pair(std::move(from), "sold-by", z("company", n.companies));
    if (choice < 75) {
        Claim claim;
        claim.subject = std::move(from);
        claim.relation = "capacity";
        const auto amount = 10 + random.below(200);
        claim.object = Value{Value::Type::number, fmt::format("{}", amount), "cl"};
        return claim;
    }
    if (choice < 79) return pair(std::move(from), "built-on", z("shape", n.shapes));
    if (choice < 84) return pair(std::move(from), "includes", a("treatment", n.treatments));
    if (choice < 88) return pair(std::move(from), "commissioned-by", z("company", n.companies));
    if (choice < 94) return pair(std::move(from), "designed-by", z("person", n.people));
    Claim claim;
    claim.subject = std::move(from);
    claim.relation = "numbered";
    const auto number = random.below(10 * n.treatments);
    claim.object = Value{Value::Type::text, fmt::format("T {}", number), ""};
    return claim;
}

inline Evidence random_evidence(Random& random, const Sizes& n, const ContentId& claim) {
    Evidence evidence;
    evidence.claim = claim;
    evidence.source = key_of("source", random.skewed(n.sources));
    evidence.stance = random.below(12) == 0 ? Stance::against : Stance::in_favour;
    evidence.at = fmt::format("page={}", 1 + random.below(400));
    if (random.below(3) == 0) {
        for (int i = 0; i < 6; ++i) {
            if (i) evidence.quote += ' ';
            evidence.quote += word(random.next());
        }
    }
    if (random.below(5) == 0) evidence.certainty = "probably";
    return evidence;
}

}  // namespace detail

// Calls put(record) for every entity, source, claim and evidence edge.
template <class Put>
void make_graph(std::uint64_t claims, std::uint64_t seed, Put put) {
    const Sizes n(claims);
    Random random(seed);
    const auto name = [&](const char* kind, std::uint64_t count) {
        for (std::uint64_t i = 0; i < count; ++i) {
            Entity entity;
            entity.key = key_of(kind, i);
            const char* const first = detail::word(random.next());
            entity.label.text = fmt::format("{} {} {}", first, kind, i);
            put(entity);
        }
    };
    name("piece", n.pieces);
    name("item", n.items);
    name("line", n.lines);
    name("treatment", n.treatments);
    name("shape", n.shapes);
    name("company", n.companies);
    name("person", n.people);
    static const char* const types[] = {"journal", "memo", "letter", "photograph", "book", "order-book"};
    for (std::uint64_t i = 0; i < n.sources; ++i) {
        Source source;
        source.key = key_of("source", i);
        source.title = fmt::format("Paper {}", i);
        source.type = types[random.below(6)];
        put(source);
    }
    for (std::uint64_t i = 0; i < claims; ++i) {
        const Claim claim = detail::random_claim(random, n);
        put(claim);
        const ContentId id = id_of(claim);
        std::uint64_t readings = 1;  // 1 + geometric: 1.6 on average
        while (random.unit() < 0.375) ++readings;
        for (std::uint64_t r = 0; r < readings; ++r) put(detail::random_evidence(random, n, id));
    }
}

}  // namespace saggar::bench
