// Comparing things and naming a piece in a graph of the given size, each question with a weigher of its own.
#include "kg/store/store.h"
#include "queries/compare.h"
#include "queries/identify.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

void add(Numbers& numbers, const std::string& name, const std::vector<double>& ms) {
    numbers[name + "_p50_ms"] = percentile(ms, .5);
    numbers[name + "_p95_ms"] = percentile(ms, .95);
}

}  // namespace

Numbers shapes(std::uint64_t claims, const std::filesystem::path& folder) {
    const Store store = Store::open(folder, Access::read);
    const auto snapshot = store.snapshot();
    const Sizes n(claims);
    Numbers numbers;
    Random random(11);
    // The most popular shapes carry the most lines.
    std::vector<double> cells;
    for (const char* kind : {"shape", "line", "item"}) {
        std::vector<double> ms;
        for (int round = 0; round < 20; ++round) {
            CompareQuestion question;
            question.figures = false;
            for (std::uint64_t i = 0; i < 6; ++i) {
                const std::uint64_t among = std::string(kind) == "shape" ? n.shapes : std::string(kind) == "line" ? n.lines : n.items;
                const std::uint64_t which = round == 0 ? i : random.below(among);  // once the six most popular
                question.things.push_back(snapshot->need(key_of(kind, which)));
            }
            Weigher weigher(*snapshot);
            const Stopwatch watch;
            const CompareAnswer answer = compare(*snapshot, weigher, question);
            ms.push_back(watch.seconds() * 1e3);
            if (round > 0) continue;
            std::size_t all = 0;
            for (const ComparedRelation& relation : answer.relations) all += relation.objects.size() * answer.things.size();
            numbers[std::string(kind) + "_popular_cells"] = static_cast<double>(all);
            numbers[std::string(kind) + "_popular_ms"] = ms.back();
        }
        add(numbers, std::string("compare_") + kind, ms);
    }
    for (const char* kind : {"item", "shape"}) {
        std::vector<double> ms, ms_with_year;
        double candidates = 0, excluded = 0;
        for (int round = 0; round < 10; ++round) {
            IdentifyQuestion question;
            question.kind = kind;
            Sighting seen;
            seen.relation = "treated-with";
            seen.object = snapshot->need(key_of("treatment", round == 0 ? 0 : random.below(n.treatments)));
            question.sightings.push_back(seen);
            for (const bool with_year : {false, true}) {
                if (with_year) {
                    Sighting year;
                    year.relation = "made-in-year";
                    year.value = {Value::Type::date, "1950", ""};
                    question.sightings.push_back(year);
                }
                Weigher weigher(*snapshot);
                const Stopwatch watch;
                const IdentifyAnswer answer = identify(*snapshot, weigher, question);
                (with_year ? ms_with_year : ms).push_back(watch.seconds() * 1e3);
                candidates = static_cast<double>(answer.candidates.size());
                excluded = static_cast<double>(answer.excluded.size());
                if (round == 0) numbers[std::string("identify_") + kind + (with_year ? "_popular_year_ms" : "_popular_ms")] = watch.seconds() * 1e3;
                numbers[std::string("identify_") + kind + "_complete"] = answer.complete ? 1 : 0;
            }
        }
        add(numbers, std::string("identify_") + kind, ms);
        add(numbers, std::string("identify_") + kind + "_year", ms_with_year);
        numbers[std::string("identify_") + kind + "_candidates"] = candidates;
        numbers[std::string("identify_") + kind + "_excluded"] = excluded;
    }
    return numbers;
}

}  // namespace saggar::bench
