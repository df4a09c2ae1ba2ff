#include "importers/claim_rows.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::string_view claim_column_names[] = {
    "subject",  "relation", "object",    "stance",      "when",        "scope",        "source",
    "at",       "quote",    "certainty", "reading",     "mention",     "completeness", "corrects",
    "premises", "strength", "reason",    "recorded_by", "recorded_on", "remark",       "private"};
static_assert(std::size(claim_column_names) == ClaimRows::column_count);

constexpr std::string_view stance_names[] = {"for", "against", "lists-all", "silent", "argued", "argued-against"};

}  // namespace

std::span<const std::string_view> ClaimRows::column_names() {
    return claim_column_names;
}

ClaimRows::ClaimRows(const ReadContext& context, Sink& sink, Problems& problems, std::string default_source)
    : context_(context),
      sink_(sink),
      problems_(problems),
      default_source_(std::move(default_source)),
      columns_(claim_column_names) {}

bool ClaimRows::header(const CellRow& row) {
    columns_ = NamedColumns(claim_column_names);
    static constexpr std::size_t needed[] = {subject, relation, object};
    const bool known = columns_.read_header(row, "claims", problems_);
    return columns_.require(row, needed, "claims", problems_) && known;
}

std::string_view ClaimRows::trimmed(const CellRow& row, Column column) const {
    return trim(columns_.text(row, column));
}

bool ClaimRows::wrong(const RowOrigin& origin, Column column, std::string id, std::string message, std::string next) {
    problems_.add({std::move(id), Severity::error, origin.place_of(claim_column_names[column]), std::move(message),
                   std::move(next)});
    return false;
}

void ClaimRows::row(const CellRow& row) {
    if (NamedColumns::is_blank(row) || !columns_.fits(row, problems_)) return;
    const RowOrigin origin(row, columns_);
    Way way = Way::in_favour;
    if (!read_stance(row, origin, way) || !check_columns(row, origin, way)) return;
    switch (way) {
        case Way::in_favour:
        case Way::against:
        case Way::silent:
            return put_evidence(row, origin, way);
        case Way::lists_all:
            return put_listing(row, origin);
        case Way::argued:
        case Way::argued_against:
            return put_argument(row, origin, way);
    }
}

bool ClaimRows::read_stance(const CellRow& row, const RowOrigin& origin, Way& way) {
    const std::string_view word = trimmed(row, stance);
    if (word.empty()) return true;
    const auto known = std::find(std::begin(stance_names), std::end(stance_names), word);
    if (known == std::end(stance_names)) {
        return wrong(origin, stance, "stance-unknown", fmt::format("\"{}\" is not a stance", word),
                     fmt::format("write one of: {}", fmt::join(stance_names, ", ")));
    }
    way = static_cast<Way>(known - std::begin(stance_names));
    return true;
}

// Some columns belong to some stances only; a value elsewhere is a mistake, not something to pass over.
bool ClaimRows::check_columns(const CellRow& row, const RowOrigin& origin, Way way) {
    const bool argued = way == Way::argued || way == Way::argued_against;
    struct Rule {
        Column column;
        bool fits;
        std::string_view stances;
    };
    const Rule rules[] = {{mention, way == Way::silent, "silent"},
                          {completeness, way == Way::lists_all, "lists-all"},
                          {premises, argued, "argued or argued-against"},
                          {strength, argued, "argued or argued-against"},
                          {reason, argued, "argued or argued-against"},
                          {certainty, way == Way::in_favour || way == Way::against, "for or against"},
                          {reading, way == Way::in_favour || way == Way::against, "for or against"},
                          {corrects, way == Way::in_favour || way == Way::against, "for or against"},
                          {source, !argued, "for, against, silent or lists-all"}};
    bool good = true;
    for (const Rule& rule : rules) {
        if (rule.fits || trimmed(row, rule.column).empty()) continue;
        good = wrong(origin, rule.column, "stance-column",
                     fmt::format("\"{}\" says nothing where the stance is \"{}\"", claim_column_names[rule.column],
                                 stance_names[static_cast<int>(way)]),
                     fmt::format("leave the cell empty, or set the stance to {}", rule.stances));
    }
    return good;
}

std::optional<Claim> ClaimRows::read_claim(const CellRow& row, const RowOrigin& origin) {
    const ClaimWords words{columns_.text(row, subject), columns_.text(row, relation), columns_.text(row, object),
                           columns_.text(row, scope), columns_.text(row, when)};
    auto claim = claim_of_words(words, context_.vocabulary, origin, problems_);
    const auto yes = read_yes(columns_.text(row, private_), "private", origin, problems_);
    if (!claim || !yes) return std::nullopt;
    claim->is_private = *yes;
    return claim;
}

std::optional<std::string> ClaimRows::read_source(const CellRow& row, const RowOrigin& origin) {
    const std::string_view text = trimmed(row, source);
    if (text.empty() && !default_source_.empty()) return default_source_;
    if (text.empty()) {
        wrong(origin, source, "source-missing", "the row names no source",
              "fill in the column \"source\", or give one for the whole file with --source");
        return std::nullopt;
    }
    return read_source_key(text, "source", origin, problems_);
}

bool ClaimRows::read_chance(const CellRow& row, const RowOrigin& origin, Column column, double& chance) {
    const std::string_view text = trimmed(row, column);
    if (text.empty()) return true;
    const auto number = decimal(text);
    if (number) {
        chance = *number;
        return true;
    }
    return wrong(origin, column, "chance-invalid", fmt::format("\"{}\" is not a number", text),
                 "write a number from 0 to 1, for example 0.8");
}

template <class R>
bool ClaimRows::read_recording(const CellRow& row, const RowOrigin& origin, R& record) {
    const std::string_view by = trimmed(row, recorded_by);
    record.recorded_by = by.empty() ? context_.recorded_by : std::string(by);
    if (trimmed(row, recorded_on).empty()) return true;
    auto date = date_of_words(columns_.text(row, recorded_on), "", "recorded_on", origin, problems_);
    if (date) record.recorded_on = std::move(*date);
    return date.has_value();
}

void ClaimRows::put_evidence(const CellRow& row, const RowOrigin& origin, Way way) {
    auto claim = read_claim(row, origin);
    auto key = read_source(row, origin);
    Evidence evidence;
    bool good = read_recording(row, origin, evidence);
    if (way != Way::in_favour) evidence.stance = Stance::against;
    if (way == Way::silent) {
        if (trimmed(row, mention).empty()) {
            good = wrong(origin, mention, "mention-missing",
                         "a silence needs the chance that the source would have spoken",
                         "fill in the column \"mention\" with a number from 0 to 1");
        }
        good = read_chance(row, origin, mention, evidence.mention.emplace()) && good;
    }
    if (!claim || !key || !good) return;
    evidence.claim = id_of(*claim);
    evidence.source = std::move(*key);
    evidence.at = trimmed(row, at);
    evidence.quote = columns_.text(row, quote);
    evidence.certainty = trimmed(row, certainty);
    evidence.reading = trimmed(row, reading);
    if (evidence.reading == "direct") evidence.reading.clear();
    evidence.remark = columns_.text(row, remark);
    evidence.is_private = claim->is_private;
    if (columns_.has(corrects)) {
        if (!read_corrects(row, origin, evidence)) return;
        earlier_[evidence.source + '\n' + evidence.at].push_back({id_of(evidence), claim->subject, claim->relation});
    }
    put_claim(std::move(*claim), row, origin);
    sink_.put(std::move(evidence), origin);
}

// A claim written by the inverse name, or with the larger key first, was turned round: its places are too.
void ClaimRows::put_claim(Claim claim, const CellRow& row, const RowOrigin& origin) {
    class Turned final : public Origin {
    public:
        explicit Turned(const RowOrigin& inner) : inner_(inner) {}
        std::uint32_t line() const override { return inner_.line(); }
        Place place_of(std::string_view field) const override {
            return inner_.place_of(field == "subject" ? "object" : field == "object" ? "subject" : field);
        }

    private:
        const RowOrigin& inner_;
    };
    if (claim.subject == trimmed(row, subject)) {
        sink_.put(std::move(claim), origin);
    } else {
        sink_.put(std::move(claim), Turned(origin));
    }
}

// The id of an earlier evidence, or the place in the same source of one in this file; of several there, the one about
// the same subject and relation.
bool ClaimRows::read_corrects(const CellRow& row, const RowOrigin& origin, Evidence& evidence) {
    const std::string_view text = trimmed(row, corrects);
    if (text.empty()) return true;
    if (const auto id = parse_content_id(text)) {
        evidence.corrects = *id;
        return true;
    }
    const auto found = earlier_.find(evidence.source + '\n' + std::string(text));
    std::vector<ContentId> fitting;
    if (found != earlier_.end()) {
        for (const Earlier& one : found->second) {
            const bool same = one.subject == trimmed(row, subject) && one.relation == trimmed(row, relation);
            if (found->second.size() == 1 || same) fitting.push_back(one.id);
        }
    }
    if (fitting.size() == 1) {
        evidence.corrects = fitting.front();
        return true;
    }
    return wrong(origin, corrects, "corrects-unknown",
                 fmt::format("\"{}\" names {} earlier reading of {} in this file", text,
                             fitting.empty() ? "no" : "more than one", evidence.source),
                 "write the \"at\" of the earlier row, or the id of the evidence");
}

void ClaimRows::put_listing(const CellRow& row, const RowOrigin& origin) {
    Listing listing;
    const std::string_view what = trimmed(row, object);
    bool good = true;
    if (!what.empty() && what != "*") {
        good = wrong(origin, object, "list-object", fmt::format("a list speaks of all objects, not of \"{}\"", what),
                     "leave the object empty, or write *");
    }
    const auto known = context_.vocabulary.find_relation(trimmed(row, relation));
    if (!known) {
        const std::string name(trimmed(row, relation));
        good = wrong(origin, relation, "relation-unknown",
                     fmt::format("unknown relation \"{}\"{}", name,
                                 Vocabulary::suggestion(context_.vocabulary.nearest_relation(name))),
                     "a list names the relation itself, not its inverse");
    } else {
        listing.relation = known->name;
    }
    auto key = read_source(row, origin);
    const auto yes = read_yes(columns_.text(row, private_), "private", origin, problems_);
    good = read_recording(row, origin, listing) && good;
    good = read_chance(row, origin, completeness, listing.completeness) && good;
    if (!trimmed(row, when).empty()) {
        auto date = date_of_words(columns_.text(row, when), listing.relation, "when", origin, problems_);
        good = good && date;
        if (date) listing.when = std::move(*date);
    }
    if (!key || !yes || !good) return;
    listing.source = std::move(*key);
    listing.subject = trimmed(row, subject);
    listing.scope = trimmed(row, scope);
    listing.at = trimmed(row, at);
    listing.quote = columns_.text(row, quote);
    listing.remark = columns_.text(row, remark);
    listing.is_private = *yes;
    sink_.put(std::move(listing), origin);
}

void ClaimRows::put_argument(const CellRow& row, const RowOrigin& origin, Way way) {
    auto claim = read_claim(row, origin);
    Argument argument;
    bool good = read_recording(row, origin, argument);
    argument.stance = way == Way::argued ? Stance::in_favour : Stance::against;
    for (const Column needed : {strength, reason}) {
        if (!trimmed(row, needed).empty()) continue;
        good = wrong(origin, needed, "argument-incomplete",
                     fmt::format("an argument needs a {}", claim_column_names[needed]),
                     "say how far the premises carry (0 to 1), and why; a guess is an argument with a low strength");
    }
    good = read_chance(row, origin, strength, argument.strength) && good;
    good = read_premises(row, origin, argument.premises) && good;
    if (!claim || !good) return;
    argument.conclusion = id_of(*claim);
    argument.reason = columns_.text(row, reason);
    argument.is_private = claim->is_private;
    put_claim(std::move(*claim), row, origin);
    sink_.put(std::move(argument), origin);
}

// Ids of claims, or claims in words, joined by " + ". A claim in words is put too: it may stand nowhere else yet.
bool ClaimRows::read_premises(const CellRow& row, const RowOrigin& origin, std::vector<ContentId>& premises_out) {
    class AtPremises final : public Origin {
    public:
        explicit AtPremises(const RowOrigin& inner) : inner_(inner) {}
        std::uint32_t line() const override { return inner_.line(); }
        Place place_of(std::string_view) const override { return inner_.place_of("premises"); }

    private:
        const RowOrigin& inner_;
    } at_premises(origin);
    bool good = true;
    for (const std::string_view part : split_list(columns_.text(row, premises), " + ")) {
        if (const auto id = parse_content_id(part)) {
            premises_out.push_back(*id);
            continue;
        }
        auto claim = claim_of_sentence(part, context_.vocabulary, at_premises, problems_);
        good = good && claim;
        if (!claim) continue;
        premises_out.push_back(id_of(*claim));
        sink_.put(std::move(*claim), at_premises);
    }
    std::sort(premises_out.begin(), premises_out.end());
    premises_out.erase(std::unique(premises_out.begin(), premises_out.end()), premises_out.end());
    return good;
}

std::optional<bool> read_yes(std::string_view text, std::string_view field, const Origin& origin, Problems& problems) {
    text = trim(text);
    if (text.empty() || text == "no") return false;
    if (text == "yes") return true;
    problems.add({"yes-or-blank", Severity::error, origin.place_of(field),
                  fmt::format("\"{}\" is \"{}\"; yes or nothing is wanted", field, text),
                  "write yes, or leave it empty"});
    return std::nullopt;
}

std::optional<std::string> read_source_key(std::string_view text, std::string_view field, const Origin& origin,
                                           Problems& problems) {
    text = trim(text);
    if (is_key(text)) return std::string(text);
    std::string with_kind = "source:" + std::string(text);
    if (is_key(with_kind)) return with_kind;
    const std::string slug = slugify(text);
    problems.add({"key-invalid", Severity::error, origin.place_of(field), fmt::format("\"{}\" is not a key", text),
                  fmt::format("write kind:name, for example source:{}", slug.empty() ? "journal-1948" : slug)});
    return std::nullopt;
}

}  // namespace saggar
