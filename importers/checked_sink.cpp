#include "importers/checked_sink.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/model/nearest.h"
#include "kg/model/record_fields.h"
#include "kg/time/edtf_read.h"

namespace saggar {
namespace {

// Adds up the bytes of all texts of a record.
struct TextBytes {
    std::size_t bytes = 0;
    void operator()(std::string_view, const std::string& text, Need) { bytes += text.size(); }
    void operator()(std::string_view, const Name& name, Need) { bytes += name.text.size() + name.language.size(); }
    void operator()(std::string_view, const Value& value, Need) { bytes += value.text.size() + value.unit.size(); }
    void operator()(std::string_view name, const std::vector<std::string>& list, Need need) { all(name, list, need); }
    void operator()(std::string_view name, const std::vector<Name>& list, Need need) { all(name, list, need); }
    void operator()(std::string_view, const std::vector<Copy>& list, Need) {
        for (const Copy& copy : list) bytes += copy.of.size() + 2 * sizeof(double);
    }
    void operator()(std::string_view, const std::vector<ContentId>& list, Need) { bytes += 16 * list.size(); }
    void operator()(std::string_view, const std::vector<std::pair<std::string, std::string>>& pairs, Need) {
        for (const auto& [name, text] : pairs) bytes += name.size() + text.size();
    }
    template <class Small>
    void operator()(std::string_view, const Small&, Need) {}
    template <class R>
    void own_id(const R&) {}

private:
    template <class T>
    void all(std::string_view name, const std::vector<T>& list, Need need) {
        for (const T& element : list) (*this)(name, element, need);
    }
};

}  // namespace

// The checks of one record; `good` tells the verdict.
class CheckedSink::Check {
public:
    Check(CheckedSink& sink, const Origin& origin)
        : vocabulary_(*sink.vocabulary_),
          profile_(sink.profile_),
          problems_(sink.problems_),
          origin_(origin),
          sink_(sink) {}

    bool good = true;

    void operator()(const Entity& entity) {
        key(entity.key, "key");
        spreadsheet(entity.label.text, "label");
        for (const Name& name : entity.also) spreadsheet(name.text, "also");
    }

    void operator()(const Source& source) {
        key(source.key, "key");
        known(source.type, profile_.types, &SourceType::name, "type", "type-unknown", "type of source");
        known(source.grade, profile_.grades, &Grade::name, "grade", "grade-unknown", "grade");
        known(source.family_kind, profile_.families, &FamilyKind::name, "family_kind", "family-kind-unknown",
              "kind of family");
        if (source.reliability) chance(*source.reliability, "reliability");
        if (source.dependence) chance(*source.dependence, "dependence");
        if (source.tolerance_years && (*source.tolerance_years < 0 || *source.tolerance_years > 1000)) {
            wrong("tolerance", "tolerance-range", fmt::format("a tolerance of {} years", *source.tolerance_years),
                  "give years, from 0 to 1000");
        }
        date(source.issued, "issued");
        for (std::size_t i = 1; i < source.more.size(); ++i) {
            if (source.more[i - 1].first < source.more[i].first) continue;
            wrong("more", "more-order", fmt::format("the further field \"{}\" stands twice or out of order", source.more[i].first),
                  "sort the further fields by name, and give each once");
        }
        for (const Copy& copy : source.copied_from) {
            key(copy.of, "copied_from");
            chance(copy.chance, "copied_from");
            chance(copy.fidelity, "copied_from");
            if (copy.of == source.key) {
                wrong("copied_from", "copy-of-itself", fmt::format("{} is said to be copied from itself", source.key),
                      "name the source it was copied from");
            }
        }
    }

    void operator()(const Claim& claim) {
        const std::string_view subject_kind = key(claim.subject, "subject");
        scope_and_when(claim.scope, claim.when);
        const Relation* relation = relation_named(claim.relation);
        if (!relation) return;
        subject(*relation, claim.subject, subject_kind);
        object(*relation, claim.object);
        nobody(claim.subject, "subject");
        if (claim.object.type == Value::Type::entity) nobody(claim.object.text, "object");
        if (claim.object.type == Value::Type::text) spreadsheet(claim.object.text, "object");
        if (relation->symmetric && claim.object.type == Value::Type::entity && claim.object.text < claim.subject) {
            wrong("subject", "claim-order",
                  fmt::format("\"{}\" reads the same both ways, so the smaller key stands first", claim.relation),
                  fmt::format("write {} {} {}", claim.object.text, claim.relation, claim.subject));
        }
    }

    // What a spreadsheet writes where it could not work something out, and a formula that was not worked out.
    void spreadsheet(const std::string& text, std::string_view field) {
        if (text.empty() || (text[0] != '#' && text[0] != '=')) return;
        bool failed = false;
        for (const std::string_view word : {"#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"}) failed = failed || text == word;
        const bool formula = text.size() > 2 && text[0] == '=' && (text[1] == '"' || (text[1] >= 'A' && text[1] <= 'Z'));
        if (!failed && !formula) return;
        problems_.add({"spreadsheet-cell", Severity::warning, origin_.place_of(field),
                       fmt::format("\"{}\" is {} of a spreadsheet, taken as it stands", text, failed ? "an error" : "a formula"),
                       "mend it in the spreadsheet, or empty the cell"});
    }

    // "maker:unknown" would make one maker of all whom nobody knows; "maker:ditto" stands for whoever is in the row above.
    void nobody(const std::string& named, std::string_view field) {
        const auto parts = split_key(named);
        if (!parts || std::string_view("uandis").find(parts->slug[0]) == std::string_view::npos) return;
        for (const std::string_view word : {"ditto", "do", "idem", "as-above", "same-as-above", "see-above", "same"}) {
            if (parts->slug != word || !sink_.nobodies_.insert(named).second) continue;
            problems_.add({"key-of-ditto", Severity::warning, origin_.place_of(field), fmt::format("{} may stand for what is said above it", named),
                           "write out what it stands for"});
        }
        for (const std::string_view word : {"unknown", "unidentified", "unnamed", "unrecorded", "anonymous", "anon", "none", "n-a", "not-known"}) {
            if (parts->slug != word || !sink_.nobodies_.insert(named).second) continue;
            problems_.add({"key-of-nobody", Severity::warning, origin_.place_of(field), fmt::format("{} would be one thing wherever a source says \"{}\"", named, word),
                           "leave the cell empty, or make the word a null of the column (CSVW: null)"});
        }
    }

    void operator()(const Evidence& evidence) {
        key(evidence.source, "source");
        claim(evidence.claim, "claim");
        certainty(evidence.certainty);
        if (evidence.mention) chance(*evidence.mention, "mention");
        if (!evidence.reading.empty() && evidence.reading != "indirect") {
            wrong("reading", "reading-unknown", fmt::format("\"{}\" is not a way of reading", evidence.reading),
                  "write direct or indirect, or leave it empty");
        }
        date(evidence.recorded_on, "recorded_on");
    }

    void operator()(const Listing& listing) {
        key(listing.source, "source");
        const std::string_view subject_kind = key(listing.subject, "subject");
        scope_and_when(listing.scope, listing.when);
        chance(listing.completeness, "completeness");
        date(listing.recorded_on, "recorded_on");
        if (const Relation* relation = relation_named(listing.relation))
            subject(*relation, listing.subject, subject_kind);
    }

    void operator()(const Argument& argument) {
        claim(argument.conclusion, "conclusion");
        for (const ContentId& premise : argument.premises) claim(premise, "premises");
        if (!std::is_sorted(argument.premises.begin(), argument.premises.end())) {
            wrong("premises", "premises-order", "the premises are not sorted", "sort them by id");
        }
        chance(argument.strength, "strength");
        date(argument.recorded_on, "recorded_on");
    }

    void operator()(const Ruling& ruling) {
        claim(ruling.claim, "claim");
        date(ruling.decided_on, "decided_on");
    }

    void operator()(const Withdrawal& withdrawal) {
        if (withdrawal.of.empty()) wrong("of", "id-missing", "the withdrawal names nothing", "give the id of a record");
    }

    void size(const Record& record) {
        TextBytes total;
        std::visit([&](const auto& plain) { each_field(plain, total); }, record);
        if (total.bytes <= most_bytes) return;
        wrong("", "record-too-long",
              fmt::format("the record holds {} bytes of text, the most is {}", total.bytes, most_bytes),
              "cut long quotes, and name the place in the source instead");
    }

private:
    void wrong(std::string_view field, std::string id, std::string message, std::string next) {
        good = false;
        problems_.add({std::move(id), Severity::error, origin_.place_of(field), std::move(message), std::move(next)});
    }

    // The kind of a sound key; empty where it is not sound.
    std::string_view key(std::string_view text, std::string_view field) {
        const auto parts = split_key(text);
        if (!parts) {
            wrong(field, "key-invalid",
                  text.empty() ? fmt::format("the {} is missing", field) : fmt::format("\"{}\" is not a key", text),
                  "write kind:name in small letters, digits, '.', '_' and '-', for example shape:lantern");
            return {};
        }
        if (vocabulary_.find_kind(parts->kind)) return parts->kind;
        wrong(field, "kind-unknown",
              fmt::format("unknown kind \"{}\" in \"{}\"{}", parts->kind, text,
                          Vocabulary::suggestion(vocabulary_.nearest_kind(parts->kind))),
              fmt::format("use a kind of the vocabulary \"{}\"", vocabulary_.name()));
        return {};
    }

    const Relation* relation_named(const std::string& name) {
        const Relation* relation = vocabulary_.find_relation(name);
        if (!relation) {
            wrong("relation", "relation-unknown",
                  fmt::format("unknown relation \"{}\"{}", name,
                              Vocabulary::suggestion(vocabulary_.nearest_relation(name))),
                  fmt::format("use a relation of the vocabulary \"{}\"", vocabulary_.name()));
        }
        return relation;
    }

    void subject(const Relation& relation, const std::string& of, std::string_view kind) {
        if (kind.empty() || relation.takes_subject(kind)) return;
        wrong("subject", "subject-kind",
              fmt::format("\"{}\" is a {}, and \"{}\" is not said of one", of, kind, relation.name),
              fmt::format("\"{}\" is said of: {}", relation.name, relation.subjects_in_words()));
    }

    void object(const Relation& relation, const Value& value) {
        if (value.type == Value::Type::entity) {
            const std::string_view kind = key(value.text, "object");
            if (kind.empty() || relation.takes_object(kind)) return;
            wrong("object", "object-kind",
                  fmt::format("\"{}\" is a {}, and \"{}\" takes none", value.text, kind, relation.name),
                  fmt::format("\"{}\" takes: {}", relation.name, relation.objects_in_words()));
            return;
        }
        if (value.text.empty()) {
            wrong("object", "object-missing", "the object is missing",
                  fmt::format("\"{}\" takes: {}", relation.name, relation.objects_in_words()));
        } else if (!relation.takes_value(value.type)) {
            static constexpr std::string_view names[] = {"an entity", "a text", "a number", "a date"};
            wrong("object", "object-type",
                  fmt::format("\"{}\" is {}, and \"{}\" takes none", value.text, names[static_cast<int>(value.type)],
                              relation.name),
                  fmt::format("\"{}\" takes: {}", relation.name, relation.objects_in_words()));
        } else if (value.type == Value::Type::date) {
            date(value.text, "object");
        } else if (value.type == Value::Type::number && !decimal(value.text)) {
            wrong("object", "number-invalid", fmt::format("\"{}\" is not a decimal number", value.text),
                  "write digits with a decimal point");
        }
    }

    void scope_and_when(const std::string& scope, const std::string& when) {
        if (!scope.empty()) key(scope, "scope");
        date(when, "when");
    }

    void date(const std::string& text, std::string_view field) {
        if (text.empty()) return;
        const auto read = time::read_edtf(text);
        if (!read) wrong(field, read.error.id, read.error.reason, read.error.next_step);
    }

    void chance(double number, std::string_view field) {
        if (number >= 0 && number <= 1) return;
        wrong(field, "chance-range", fmt::format("{} is not between 0 and 1", number),
              "give a number from 0 to 1, for example 0.8");
    }

    void certainty(const std::string& text) {
        if (text.empty()) return;
        if (const auto number = decimal(text)) return chance(*number, "certainty");
        if (profile_.certainty_of(text)) return;
        unknown(fold(text), profile_.hedges, &Hedge::words, "certainty", "certainty-unknown",
                "word of the profile for how sure an author is");
    }

    // The word must be the name of one of the list.
    template <class T>
    void known(const std::string& word, const std::vector<T>& list, std::string T::*name, std::string_view field,
               std::string id, std::string_view what) {
        const bool there = std::any_of(list.begin(), list.end(), [&](const T& one) { return one.*name == word; });
        if (!word.empty() && !there) unknown(word, list, name, field, std::move(id), what);
    }

    template <class T>
    void unknown(const std::string& word, const std::vector<T>& list, std::string T::*name, std::string_view field,
                 std::string id, std::string_view what) {
        std::vector<std::string> names;
        for (const T& one : list) names.push_back(one.*name);
        wrong(field, std::move(id),
              fmt::format("\"{}\" is no {}{}", word, what, Vocabulary::suggestion(nearest_word(word, names))),
              fmt::format("use one of: {}", fmt::join(names, ", ")));
    }

    void claim(const ContentId& id, std::string_view field) {
        if (sink_.refused_.count(id) != 0) {
            good = false;
        } else if (id.empty()) {
            wrong(field, "id-missing", "no claim is named", "give the id of a claim");
        } else if (sink_.claim_known_ && !sink_.claim_known_(id)) {
            wrong(field, "claim-unknown", fmt::format("there is no claim {}", id.full()),
                  "put the claim before what is said about it");
        }
    }

    const Vocabulary& vocabulary_;
    const Profile& profile_;
    Problems& problems_;
    const Origin& origin_;
    CheckedSink& sink_;
};

CheckedSink::CheckedSink(Sink& next, const Vocabulary& vocabulary, const Profile& profile, Problems& problems,
                         std::function<bool(const ContentId&)> claim_known)
    : next_(next),
      vocabulary_(&vocabulary),
      profile_(profile),
      problems_(problems),
      claim_known_(std::move(claim_known)) {}

void CheckedSink::put(Record record, const Origin& origin) {
    Check check(*this, origin);
    std::visit([&](const auto& plain) { check(plain); }, record);
    check.size(record);
    if (!check.good) {
        if (const auto* claim = std::get_if<Claim>(&record)) refused_.insert(id_of(*claim));
        return;
    }
    ++passed_;
    next_.put(std::move(record), origin);
}

void CheckedSink::document(DocumentLine document, const Origin& origin) {
    if (follows_ && document.name == "vocabulary") {
        Problems wrong;
        std::optional<Vocabulary> next = Vocabulary::parse(document.text, wrong);
        if (!next) {
            problems_.add({"vocabulary-unsound", Severity::error, origin.place_of("text"),
                           "the vocabulary in this file is not sound: " + wrong.list().front().message,
                           wrong.list().front().next_step});
            return;
        }
        followed_ = std::move(next);
        vocabulary_ = &*followed_;
    }
    next_.document(std::move(document), origin);
}

void CheckedSink::picture(PictureFile file, const Origin& origin) {
    next_.picture(std::move(file), origin);
}

void CheckedSink::begin_entry(EntryHeader entry, const Origin& origin) {
    next_.begin_entry(std::move(entry), origin);
}

}  // namespace saggar
