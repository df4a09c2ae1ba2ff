// The rounds that bring statements together; mapped_claims.cpp has those that make keys and records of them.
#include "importers/rdf/mapped_records.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/rdf/own_names.h"

namespace saggar::rdf {

namespace {

constexpr std::size_t most_reasons = 1000;  // different properties or classes passed over

// "1935-01-01T00:00:00Z" -> "1935-01-01".
std::string day_of(std::string_view term) {
    std::string text = literal_of(term).text;
    const std::size_t clock = text.find('T');
    if (clock != std::string::npos && clock >= 8) text.resize(clock);
    return text;
}

// The EDTF of two bounds: a year where they are its ends; "some time between" or "throughout".
std::string date_between(const std::string& first, const std::string& last, bool throughout) {
    if (first.size() == 10 && last.size() == 10 && first.substr(4) == "-01-01" && last.substr(4) == "-12-31") {
        const std::string from = first.substr(0, 4);
        const std::string to = last.substr(0, 4);
        if (from == to) return from;
        return throughout ? from + '/' + to : '[' + from + ".." + to + ']';
    }
    if (first == last) return first;
    return throughout ? first + '/' + last : '[' + first + ".." + last + ']';
}

// What a time-span or a dimension is said to be.
struct Folded {
    std::map<Mapping::Fold, std::string> said;

    std::string term() const {
        const auto get = [this](Mapping::Fold fold) {
            const auto found = said.find(fold);
            return found == said.end() ? std::string() : found->second;
        };
        if (const std::string value = get(Mapping::Fold::value); is_literal(value)) {
            const std::string unit = get(Mapping::Fold::unit);
            const std::string text = literal_of(value).text;
            if (unit.empty()) return literal_term(text);
            return literal_term(text + ' ' + (is_literal(unit) ? literal_of(unit).text : last_segment(is_iri(unit) ? iri_of(unit) : unit)));
        }
        for (const bool throughout : {false, true}) {
            const std::string first = get(throughout ? Mapping::Fold::from : Mapping::Fold::begin);
            const std::string last = get(throughout ? Mapping::Fold::until : Mapping::Fold::end);
            if (!is_literal(first) && !is_literal(last)) continue;
            if (!is_literal(first)) return edtf_term("[.." + day_of(last) + ']');
            if (!is_literal(last)) return edtf_term('[' + day_of(first) + "..]");
            return edtf_term(date_between(day_of(first), day_of(last), throughout));
        }
        return {};
    }
};

}  // namespace

MappedRecords::MappedRecords(const std::filesystem::path& folder, const Mapping& mapping, const ReadContext& context, Source file_source)
    : mapping_(mapping),
      context_(context),
      file_source_(std::move(file_source)),
      folds_(folder, "folds"),
      acts_(folder, "acts"),
      paths_(folder, "paths"),
      subjects_(folder, "subjects"),
      objects_(folder, "objects"),
      graphs_(folder, "graphs"),
      keys_(folder, "keys", Grouping::budget) {}

std::string MappedRecords::packed(const Statement& statement) {
    std::string out;
    for (const std::string* text : {&statement.subject, &statement.predicate, &statement.object, &statement.graph}) pack(out, *text);
    pack(out, statement.spot.line);
    pack(out, statement.spot.column);
    pack(out, std::uint32_t{statement.as_written});
    return out;
}

MappedRecords::Statement MappedRecords::unpacked(std::string_view bytes) {
    Unpack unpack(bytes);
    Statement statement;
    for (std::string* text : {&statement.subject, &statement.predicate, &statement.object, &statement.graph}) *text = unpack.text();
    statement.spot.line = unpack.number();
    statement.spot.column = unpack.number();
    statement.as_written = unpack.number() != 0;
    return statement;
}

MappedRecords::Meaning MappedRecords::meaning_of(std::string_view predicate) const {
    if (predicate.substr(0, 5) == "path:") {
        const Mapping::Path& path = mapping_.path(static_cast<std::uint32_t>(std::stoul(std::string(predicate.substr(5)))));
        return {&path.relations, path.evidence};
    }
    if (predicate.substr(0, said_of_act.size()) == said_of_act) return {nullptr, predicate.substr(said_of_act.size())};
    if (const Mapping::Use* use = mapping_.use_of(predicate)) return {&use->relations, use->evidence};
    return {};
}

void MappedRecords::pass_over(std::string why, const Spot& spot) {
    const auto found = passed_.find(why);
    if (found == passed_.end() && passed_.size() >= most_reasons) return;
    Passed& passed = passed_[std::move(why)];
    if (passed.count++ == 0 || spot.line < passed.spot.line) passed.spot = spot;
}

void MappedRecords::add(const Quad& quad, const Spot& spot) {
    const Mapping::Use* use = mapping_.use_of(quad.predicate);
    const Statement statement{quad.subject, quad.predicate, quad.object, quad.graph, spot, true};
    if (!use) {
        // Relations of the vocabulary may be named by their own IRIs.
        if (own_name(quad.predicate, "relation")) return to_subjects(statement);
        return pass_over("property " + quad.predicate, spot);
    }
    if (use->fold != Mapping::Fold::none) folds_.add(quad.subject, 0, packed(statement));
    if (use->folds && !is_literal(quad.object)) {
        folds_.add(quad.object, 1, packed(statement));
    } else {
        onward(statement);
    }
}

// A statement whose object is what it will be.
void MappedRecords::onward(const Statement& statement) {
    const Mapping::Use* use = mapping_.use_of(statement.predicate);
    if (use && (!use->role.empty() || !use->evidence.empty())) acts_.add(statement.subject, 0, packed(statement));
    to_paths(statement);
    to_subjects(statement);
}

// A statement goes to the node in the middle of every path it may be a step of.
void MappedRecords::to_paths(const Statement& statement) {
    const Mapping::Use* use = mapping_.use_of(statement.predicate);
    if (!use) return;
    for (const Mapping::PathStep& step : use->steps) {
        if (!step.backwards && !step.last && is_literal(statement.object)) continue;
        if (step.backwards && step.last && is_literal(statement.object)) continue;
        const bool middle_is_object = step.last == step.backwards;
        std::string message;
        pack(message, step.path);
        pack(message, middle_is_object ? statement.subject : statement.object);
        message += packed(statement);
        paths_.add(middle_is_object ? statement.object : statement.subject, step.last ? 1 : 0, message);
    }
}

void MappedRecords::to_subjects(const Statement& statement) {
    const Mapping::Use* use = mapping_.use_of(statement.predicate);
    const std::string bytes = packed(statement);
    if (use && (use->type || !use->field.empty())) subjects_.add(statement.subject, 0, bytes);
    const Meaning meaning = meaning_of(statement.predicate);
    const bool relates = (meaning.relations && !meaning.relations->empty()) || own_name(statement.predicate, "relation");
    if (relates || !meaning.evidence.empty()) subjects_.add(statement.subject, 1, bytes);
}

void MappedRecords::fold() {
    Folded folded;
    std::string term;
    bool known = false;
    folds_.each([&](std::string_view, bool first, std::uint8_t rank, std::string_view message) {
        if (first) {
            folded.said.clear();
            known = false;
        }
        Statement statement = unpacked(message);
        if (rank == 0) {
            folded.said.emplace(mapping_.use_of(statement.predicate)->fold, statement.object);
            return;
        }
        if (!known) term = folded.term();
        known = true;
        if (!term.empty()) {
            statement.object = term;
            statement.as_written = false;
        }
        onward(statement);
    });
}

// The statements that acts make. An act that names its source, or stands in no graph, takes the graph's place: its evidence is theirs.
void MappedRecords::unwrap() {
    std::string act;
    std::map<std::string, std::vector<Statement>, std::less<>> said;  // by role
    const auto finish = [&] {
        const auto subject = said.find("subject");
        const auto property = said.find("property");
        const auto object = said.find("object");
        if (subject == said.end() || property == said.end() || object == said.end()) return;
        // Of several the smallest, so that the order of statements does not matter.
        const auto least = [](const std::vector<Statement>& all) {
            return std::min_element(all.begin(), all.end(), [](const Statement& a, const Statement& b) { return a.object < b.object; })->object;
        };
        const std::string predicate = least(property->second);
        const bool names_source = said.count("source") != 0;
        const bool has_evidence = said.size() > 3;
        bool takes_over = false;
        for (Statement statement : object->second) {
            statement.subject = least(subject->second);
            statement.predicate = predicate;
            statement.as_written = false;
            if (!mapping_.use_of(predicate) && !own_name(predicate, "relation")) {
                pass_over("property " + predicate, statement.spot);
                continue;
            }
            if (names_source || (has_evidence && statement.graph.empty())) {
                statement.graph = act;
                takes_over = true;
            }
            to_paths(statement);
            to_subjects(statement);
        }
        if (!takes_over) return;
        Statement mark = object->second.front();
        mark.predicate = said_of_act;
        subjects_.add(act, 0, packed(mark));
        for (const auto& [role, all] : said) {
            if (role == "subject" || role == "property" || role == "object") continue;
            for (Statement statement : all) {
                statement.predicate = std::string(said_of_act) + role;
                to_subjects(statement);
            }
        }
    };
    acts_.each([&](std::string_view node, bool first, std::uint8_t, std::string_view message) {
        if (first) {
            finish();
            said.clear();
            act = node;
        }
        Statement statement = unpacked(message);
        const Mapping::Use* use = mapping_.use_of(statement.predicate);
        std::vector<Statement>& all = said[use->role.empty() ? use->evidence : use->role];
        if (all.size() < most_reasons) all.push_back(std::move(statement));
    });
    finish();
}

void MappedRecords::walk_paths(Problems& problems, const SourceLines& lines) {
    struct Arrival {
        std::uint32_t path;
        std::string from;
    };
    std::vector<Arrival> arrivals;
    bool told = false;
    paths_.each([&](std::string_view node, bool first, std::uint8_t rank, std::string_view message) {
        if (first) {
            arrivals.clear();
            told = false;
        }
        Unpack unpack(message);
        const std::uint32_t path = unpack.number();
        const std::string_view end = unpack.text();
        if (rank == 0) {
            if (arrivals.size() < most_together) return arrivals.push_back({path, std::string(end)});
            if (told) return;
            told = true;
            problems.add({"rdf-too-many", Severity::error, lines.place(unpacked(message.substr(8 + end.size())).spot),
                          fmt::format("more than {} statements lead to {} in the middle of a path", most_together, node),
                          "leave the path out of the mapping, or split the node"});
            return;
        }
        Statement statement = unpacked(message.substr(8 + end.size()));
        statement.object = end;
        for (const Arrival& arrival : arrivals) {
            if (arrival.path != path) continue;
            statement.subject = arrival.from;
            statement.predicate = fmt::format("path:{}", path);
            statement.as_written = false;
            to_subjects(statement);
        }
    });
}

void MappedRecords::put(const SourceLines& lines, Sink& sink, Problems& problems) {
    fold();
    unwrap();
    walk_paths(problems, lines);
    name_subjects(sink, problems, lines);
    name_objects(problems, lines);
    put_claims(sink, problems, lines);
    warn(problems, lines);
}

}  // namespace saggar::rdf
