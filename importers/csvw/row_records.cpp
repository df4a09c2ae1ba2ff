#include "importers/csvw/row_records.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/csvw/role_words.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/time/written.h"
#include "kg/weigh/profile.h"

namespace saggar::csvw {
namespace {

// Everything a record's fields say of their place is the place of the cell they came from.
class CellOrigin final : public Origin {
public:
    CellOrigin(const AnnotatedRows& rows, std::size_t column) : rows_(rows), column_(column) {}
    std::uint32_t line() const override { return rows_.line(); }
    Place place_of(std::string_view) const override { return rows_.place_of(column_); }

private:
    const AnnotatedRows& rows_;
    std::size_t column_;
};

}  // namespace

RowRecords::RowRecords(const AnnotatedRows& rows, const ReadContext& context, Sink& sink, Problems& problems,
                       std::string default_source)
    : rows_(rows), context_(context), sink_(sink), problems_(problems), default_source_(std::move(default_source)) {}

void RowRecords::put_row() {
    subjects_.clear();
    entities_.clear();
    sources_.clear();
    entity_columns_.clear();
    source_columns_.clear();
    claims_.clear();
    for (Plan& plan : plans_) put_cell(plan);
    for (std::size_t i = 0; i < sources_.size(); ++i) {
        settle_more(sources_[i]);
        sink_.put(std::move(sources_[i]), CellOrigin(rows_, source_columns_[i]));
    }
    for (std::size_t i = 0; i < entities_.size(); ++i) sink_.put(std::move(entities_[i]), CellOrigin(rows_, entity_columns_[i]));
    for (auto& [record, column] : claims_) sink_.put(std::move(record), CellOrigin(rows_, column));
}

std::optional<TemplateValue> RowRecords::variable(std::string_view name, std::size_t column,
                                                  const std::string_view* element) const {
    TemplateValue found;
    for (std::size_t i = 0; i < rows_.columns().size(); ++i) {
        if (rows_.columns()[i].name != name) continue;
        if (i == column && element) {
            found.texts.push_back(*element);
            return found;
        }
        const CellValue& cell = rows_.cells()[i];
        if (cell.is_null) return std::nullopt;
        found.texts = cell.texts;
        found.is_list = cell.is_list;
        if (!found.is_list && found.texts.empty()) return std::nullopt;
        return found;
    }
    return std::nullopt;
}

std::string RowRecords::expand(const UriTemplate& url, std::size_t column, const std::string_view* element) const {
    const std::string numbers[] = {std::to_string(rows_.number()), std::to_string(rows_.source_number()),
                                   std::to_string(column + 1)};
    return url.expand([&](std::string_view name) -> std::optional<TemplateValue> {
        if (name.front() != '_') return variable(name, column, element);
        TemplateValue found;
        if (name == "_row")
            found.texts.emplace_back(numbers[0]);
        else if (name == "_sourceRow")
            found.texts.emplace_back(numbers[1]);
        else if (name == "_column" || name == "_sourceColumn")
            found.texts.emplace_back(numbers[2]);
        else if (name == "_name")
            found.texts.emplace_back(rows_.columns()[column].name);
        else
            return variable(name, column, element);
        return found;
    });
}

// A URL or words into a key. Two different words that give one key are told once: they may be two things.
std::optional<std::string> RowRecords::key_of(std::string_view text, std::size_t column) {
    const std::size_t colon = text.find(':');
    std::string words = percent_decoded(text.substr(colon == std::string_view::npos ? 0 : colon + 1));
    std::string key;
    if (colon != std::string_view::npos) {
        key = std::string(text.substr(0, colon + 1)) + words;
        if (is_key(key)) return key;
        key = std::string(text.substr(0, colon + 1)) + slugify(words);
        if (is_key(key)) {
            const auto [earlier, fresh] = slugged_.emplace(key, words);
            if (!fresh && earlier->second != words && fold(earlier->second) != fold(words)) {
                problems_.add({"csvw-same-key", Severity::warning, rows_.place_of(column),
                               fmt::format("\"{}\" and \"{}\" both become {}", earlier->second, words, key),
                               "if they are two things, name them by a number instead"});
                earlier->second = words;
            }
            return key;
        }
    }
    const bool ditto = words == "\"" || words == "''" || words == "\u3003" || words == "\u201d";
    problems_.add({"csvw-no-key", Severity::error, rows_.place_of(column),
                   fmt::format("\"{}\" gives no key", colon == std::string_view::npos ? words : std::string(text.substr(0, colon + 1)) + words),
                   ditto ? "this is a ditto mark: write out what it stands for"
                         : "make the URL kind:name, for example piece:{number}, from cells that are filled in"});
    return std::nullopt;
}

std::optional<std::string> RowRecords::subject_of(std::size_t column) {
    const UriTemplate& url = *rows_.columns()[column].about_url;
    for (const auto& [known, key] : subjects_) {
        if (known->text() == url.text()) return key.empty() ? std::nullopt : std::optional(key);
    }
    auto key = key_of(expand(url, column, nullptr), column);
    subjects_.emplace_back(&url, key.value_or(""));
    return key;
}

namespace {

std::string single_blanks(std::string_view text) {
    std::string out;
    for (const char c : trim(text)) {
        if (c != ' ' || !out.ends_with(' ')) out += c;
    }
    return out;
}

}  // namespace

std::string RowRecords::own_text(const Plan& plan, Own what) const {
    return plan.own[what] ? plan.own[what]->expand(rows_) : std::string();
}

// Whether the valueUrl has variables and each is a column whose cell is null: it says nothing.
bool RowRecords::all_null(const Plan& plan) const {
    return !plan.asked.empty() && std::all_of(plan.asked.begin(), plan.asked.end(), [&](std::size_t column) { return rows_.cells()[column].is_null; });
}

// The objects or texts the cell gives, in order.
std::vector<RowRecords::ObjectText> RowRecords::values_of(const Plan& plan, std::string_view property) {
    const Column& column = rows_.columns()[plan.column];
    const CellValue& cell = rows_.cells()[plan.column];
    std::vector<ObjectText> values;
    if (plan.own[value]) {
        std::string text = own_text(plan, value);
        if (!trim(text).empty()) values.push_back({std::move(text), ""});
    } else if (column.value_url) {
        if (column.is_virtual ? all_null(plan) : cell.is_null) return values;
        const bool is_text = starts(property, field_prefix) || starts(property, csl_prefix);  // a URL, not a thing
        const auto add = [&](const std::string_view* element) {
            if (is_text) return values.push_back({expand(*column.value_url, plan.column, element), ""});
            auto key = key_of(expand(*column.value_url, plan.column, element), plan.column);
            if (!key) return;
            const std::string words = !plan.own[label] ? std::string() : element ? std::string(*element) : own_text(plan, label);
            values.push_back({std::move(*key), std::string(trim(words))});
        };
        if (!cell.is_list) add(nullptr);
        for (const std::string_view text : cell.texts) {
            if (cell.is_list) add(&text);
        }
    } else {
        for (const std::string_view text : cell.texts) {
            if (!trim(text).empty()) values.push_back({std::string(text), ""});
        }
    }
    return values;
}

// The words that stand for a thing become its label; where it has another one already, a further name of it.
void RowRecords::label_object(const ObjectText& object, std::size_t column) {
    if (object.words.empty() || !labels_.emplace(object.text, object.words).second) return;
    const std::string known = context_.label_of ? context_.label_of(object.text) : std::string();
    if (known.empty())
        entity(object.text, column).label = {object.words, ""};
    else if (known != object.words)
        entity(object.text, column).also.push_back({object.words, ""});
}

const RowRecords::FoundRole& RowRecords::look_up_role(Plan& plan, const std::string& words) const {
    const auto [entry, fresh] = plan.found_roles.try_emplace(words);
    if (!fresh) return entry->second;
    std::vector<std::string> hedges;
    for (const Hedge& hedge : (context_.profile ? *context_.profile : Profile::standard()).hedges)
        hedges.push_back(hedge.words);
    for (const SplitRole& reading : split_role(words, hedges)) {
        const auto found = plan.roles.find(reading.word);
        if (found == plan.roles.end()) continue;
        entry->second = {&found->second, reading.certainty};
        break;
    }
    return entry->second;
}

std::vector<RowRecords::Saying> RowRecords::sayings_of(Plan& plan, const std::string& property) {
    std::vector<Saying> sayings;
    std::string certainty_words = own_text(plan, certainty);
    if (plan.roles.empty()) {
        if (starts(property, relation_prefix)) {
            sayings.push_back(
                {property.substr(relation_prefix.size()), std::move(certainty_words), own_text(plan, stance)});
        }
        return sayings;
    }
    const std::string words = own_text(plan, role);
    const FoundRole& found = look_up_role(plan, words);
    if (!found.words && !plan.pass_other_roles) {
        problems_.add({"csvw-role", Severity::error, rows_.place_of(plan.column),
                       fmt::format("the role \"{}\" stands in no look-up", words),
                       "add it to saggar:roles with its relation, or without one to pass it over"});
    }
    if (!found.words) return sayings;
    for (const RoleWord* word : *found.words) {
        if (word->relation.empty()) continue;
        const std::string& hedge = !word->certainty.empty() ? word->certainty
                                   : !found.hedge.empty()   ? found.hedge
                                                            : certainty_words;
        sayings.push_back({word->relation, hedge, word->stance.empty() ? own_text(plan, stance) : word->stance});
    }
    return sayings;
}

void RowRecords::put_cell(Plan& plan) {
    const Column& column = rows_.columns()[plan.column];
    if (rows_.cells()[plan.column].wrong) return;
    const std::string property = plan.property ? *plan.property
                                 : column.property_url
                                     ? percent_decoded(expand(*column.property_url, plan.column, nullptr))
                                     : std::string();
    const std::vector<ObjectText> values = values_of(plan, property);
    if (values.empty()) return;
    const auto subject = subject_of(plan.column);
    if (!subject) return;
    for (const ObjectText& object : values) {
        const std::string& one = object.text;
        if (!plan.phases.empty()) {
            put_phases(plan, *subject, one, property);
        } else if (starts(property, field_prefix)) {
            set_field(plan, *subject, std::string_view(property).substr(field_prefix.size()), one);
        } else if (starts(property, csl_prefix)) {
            source_record(*subject, plan.column).more.emplace_back(property.substr(csl_prefix.size()), one);
        } else {
            const std::vector<Saying> sayings = sayings_of(plan, property);
            if (!sayings.empty()) label_object(object, plan.column);
            for (const Saying& saying : sayings) put_claim(plan, *subject, one, saying);
        }
    }
}

// Each labelled date of a cell under its own relation; dates without a label under the column's.
void RowRecords::put_phases(const Plan& plan, const std::string& subject, const std::string& text,
                            const std::string& property) {
    const auto read = time::read_edtf_or_written(trim(text));
    if (!read) {
        problems_.add({read.error.id, plan.lenient ? Severity::warning : Severity::error, rows_.place_of(plan.column),
                       read.error.reason, read.error.next_step});
        return;
    }
    for (const time::WrittenDate& date : *read) {
        const auto phase = plan.phases.find(date.label);
        std::string relation = phase != plan.phases.end() ? phase->second->relation : std::string();
        if (phase == plan.phases.end() && date.label.empty() && starts(property, relation_prefix))
            relation = property.substr(relation_prefix.size());
        if (phase == plan.phases.end() && relation.empty()) {
            problems_.add({"csvw-phase", plan.lenient ? Severity::warning : Severity::error,
                           rows_.place_of(plan.column),
                           fmt::format("saggar:phases has no entry for \"{}\"", date.label),
                           "add it with its relation, or without one to pass it over"});
        }
        if (!relation.empty())
            put_claim(plan, subject, date.edtf, {relation, own_text(plan, certainty), own_text(plan, stance)});
    }
}

Entity& RowRecords::entity(const std::string& key, std::size_t column) {
    for (Entity& known : entities_) {
        if (known.key == key) return known;
    }
    entity_columns_.push_back(column);
    entities_.emplace_back().key = key;
    return entities_.back();
}

Source& RowRecords::source_record(const std::string& key, std::size_t column) {
    for (Source& known : sources_) {
        if (known.key == key) return known;
    }
    source_columns_.push_back(column);
    sources_.emplace_back().key = key;
    return sources_.back();
}

void RowRecords::set_field(const Plan& plan, const std::string& subject, std::string_view field,
                           const std::string& text) {
    const CellOrigin origin(rows_, plan.column);
    if (field == "label") {
        entity(subject, plan.column).label = {
            text, rows_.columns()[plan.column].language == "und" ? "" : rows_.columns()[plan.column].language};
    } else if (field == "also") {
        entity(subject, plan.column).also.push_back({text, ""});
    } else if (field == "remark") {
        std::string& remark_text = entity(subject, plan.column).remark;
        remark_text += (remark_text.empty() ? "" : "\n") + text;
    } else if (field == "image") {
        entity(subject, plan.column).image = text;
    } else if (field == "identifier") {
        entity(subject, plan.column).identifiers.push_back(text);
    } else if (field == "private") {
        entity(subject, plan.column).is_private = read_yes(text, "private", origin, problems_).value_or(false);
    } else {
        Problems told(1);
        if (!set_source_field(source_record(subject, plan.column), field, text, origin, told)) {
            for (Problem problem : told.list()) {
                if (plan.lenient) problem.severity = Severity::warning;
                problems_.add(std::move(problem));
            }
        }
    }
}

void RowRecords::put_claim(const Plan& plan, const std::string& subject, const std::string& object,
                           const Saying& saying) {
    const CellOrigin origin(rows_, plan.column);
    Problems told;
    const std::string with_unit = plan.unit.empty() ? object : object + " " + plan.unit;
    const std::string scope_text = own_text(plan, scope);
    const std::string when_text = own_text(plan, when);
    auto claim =
        claim_of_words({subject, saying.relation, with_unit, scope_text, when_text}, context_.vocabulary, origin, told);
    std::string source_text = plan.own[source] ? own_text(plan, source) : default_source_;
    std::optional<std::string> source_key;
    if (source_text.empty()) {
        told.add({"source-missing", Severity::error, rows_.place_of(plan.column), "the claim names no source",
                  "say \"saggar:source\" in the metadata, for example source:record-{number}, or give --source"});
    } else if (claim) {
        source_key = key_of(source_text, plan.column);
    }
    for (Problem problem : told.list()) {
        if (plan.lenient) problem.severity = Severity::warning;
        problems_.add(std::move(problem));
    }
    if (!claim || !source_key) return;
    Evidence evidence;
    evidence.claim = id_of(*claim);
    evidence.source = std::move(*source_key);
    if (saying.stance == "against")
        evidence.stance = Stance::against;
    else if (!saying.stance.empty() && saying.stance != "for") {
        problems_.add({"stance-unknown", Severity::error, rows_.place_of(plan.column),
                       fmt::format("\"{}\" is not a stance", saying.stance), "write for or against"});
        return;
    }
    const Column& column = rows_.columns()[plan.column];
    evidence.at = plan.own[at]            ? own_text(plan, at)
                  : column.is_virtual     ? std::string()
                  : column.titles.empty() ? column.name
                                          : column.titles.front().text;
    // Words put together from cells: an empty cell leaves no double or last blank.
    evidence.quote = plan.own[quote] ? single_blanks(own_text(plan, quote)) : std::string(rows_.cells()[plan.column].written);
    evidence.certainty = saying.certainty;
    evidence.remark = own_text(plan, remark);
    evidence.recorded_by = plan.own[recorded_by] ? own_text(plan, recorded_by) : context_.recorded_by;
    evidence.recorded_on = own_text(plan, recorded_on);
    claims_.emplace_back(std::move(*claim), plan.column);
    claims_.emplace_back(std::move(evidence), plan.column);
}

}  // namespace saggar::csvw
