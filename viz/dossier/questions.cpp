#include "viz/dossier/questions.h"

namespace saggar::viz {

std::string_view heading_of(Question question) {
    switch (question) {
        case Question::who:
            return "Who";
        case Question::when:
            return "When";
        case Question::belongs:
            return "What it comprises and belongs to";
        case Question::decoration:
            return "Decoration and glaze";
        case Question::telling:
            return "How to tell it";
        case Question::pieces:
            return "Pieces";
        case Question::where:
            return "Where";
        case Question::figures:
            return "Numbers, measures and notes";
        case Question::documents:
            return "Where it is mentioned";
    }
    return "";
}

Question question_of(const Snapshot& snapshot, const ClaimRow& claim, EntityId thing) {
    if (!claim.has_entity_object()) return claim.object_type == Value::Type::date ? Question::when : Question::figures;
    const EntityId other = claim.ref.subject == thing ? claim.object : claim.ref.subject;
    const auto kind_name = snapshot.kind_of(other);
    if (kind_name == "treatment" || kind_name == "glaze" || kind_name == "technique") return Question::decoration;
    if (kind_name == "feature" || kind_name == "mark") return Question::telling;
    const Kind* kind = snapshot.vocabulary().find_kind(kind_name);
    const std::string_view category = kind == nullptr ? std::string_view{} : kind->category;
    if (category == "crm:E39_Actor" || category == "crm:E21_Person") return Question::who;
    if (category == "crm:E53_Place") return Question::where;
    if (category == "crm:E31_Document") return Question::documents;
    if (category == "crm:E22_Human-Made_Object")
        return snapshot.relation_name(claim.ref.relation) == "documents" ? Question::documents : Question::pieces;
    if (category == "crm:E57_Material") return Question::decoration;
    if (category == "crm:E37_Mark") return Question::telling;
    return Question::belongs;
}

}  // namespace saggar::viz
