// Entities, sources and their versions; the rows are in row_codec.cpp.
#include "kg/store/codec.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

void append_names(std::string& out, const std::vector<Name>& names) {
    append_varint(out, names.size());
    for (const Name& name : names) {
        append_text(out, name.text);
        append_text(out, name.language);
    }
}

void append_optional(std::string& out, const std::optional<double>& number) {
    append_varint(out, number ? 1 : 0);
    if (number) append_double(out, *number);
}

std::optional<double> read_optional(Bytes& bytes) {
    if (bytes.varint() == 0) return std::nullopt;
    return bytes.number();
}

}  // namespace

std::string encode(const Entity& entity) {
    std::string out;
    append_text(out, entity.key);
    append_text(out, entity.label.text);
    append_text(out, entity.label.language);
    append_names(out, entity.also);
    append_text(out, entity.remark);
    append_text(out, entity.image);
    append_varint(out, entity.identifiers.size());
    for (const std::string& identifier : entity.identifiers) append_text(out, identifier);
    append_varint(out, entity.is_private ? 1 : 0);
    return out;
}

void decode(std::string_view fields, Entity& entity) {
    Bytes bytes(fields);
    entity.key = bytes.text();
    entity.label.text = bytes.text();
    entity.label.language = bytes.text();
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        Name name;
        name.text = bytes.text();
        name.language = bytes.text();
        entity.also.push_back(std::move(name));
    }
    entity.remark = bytes.text();
    entity.image = bytes.text();
    for (std::uint64_t left = bytes.varint(); left > 0; --left) entity.identifiers.emplace_back(bytes.text());
    entity.is_private = bytes.varint() != 0;
}

std::string encode(const Source& source) {
    std::string out;
    append_varint(out, 1);  // layout of source fields
    for (const std::string* text : {&source.key, &source.title, &source.type, &source.grade, &source.family,
                                    &source.family_kind, &source.issued, &source.author, &source.archive, &source.place,
                                    &source.collection, &source.box, &source.folder, &source.rights, &source.url})
        append_text(out, *text);
    append_optional(out, source.reliability);
    append_optional(out, source.dependence);
    append_varint(out, source.tolerance_years ? static_cast<std::uint64_t>(*source.tolerance_years) + 1 : 0);
    append_varint(out, source.copied_from.size());
    for (const Copy& copy : source.copied_from) {
        append_text(out, copy.of);
        append_double(out, copy.chance);
        append_double(out, copy.fidelity);
    }
    append_varint(out, source.more.size());
    for (const auto& [name, text] : source.more) {
        append_text(out, name);
        append_text(out, text);
    }
    append_varint(out, source.is_private ? 1 : 0);
    return out;
}

void decode(std::string_view fields, Source& source) {
    Bytes bytes(fields);
    bytes.varint();
    for (std::string* text : {&source.key, &source.title, &source.type, &source.grade, &source.family,
                              &source.family_kind, &source.issued, &source.author, &source.archive, &source.place,
                              &source.collection, &source.box, &source.folder, &source.rights, &source.url})
        *text = bytes.text();
    source.reliability = read_optional(bytes);
    source.dependence = read_optional(bytes);
    const std::uint64_t tolerance = bytes.varint();
    if (tolerance) source.tolerance_years = static_cast<int>(tolerance - 1);
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        Copy copy;
        copy.of = bytes.text();
        copy.chance = bytes.number();
        copy.fidelity = bytes.number();
        source.copied_from.push_back(std::move(copy));
    }
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        std::string name = bytes.string();
        source.more.emplace_back(std::move(name), bytes.string());
    }
    source.is_private = bytes.varint() != 0;
}

std::string encode(const Versions& versions) {
    std::string out;
    append_varint(out, versions.size());
    for (const auto& [since, fields] : versions) {
        append_varint(out, since);
        append_text(out, fields);
    }
    return out;
}

Versions decode_versions(std::string_view value) {
    Bytes bytes(value);
    Versions versions;
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        const std::uint64_t since = bytes.varint();
        versions.emplace_back(since, bytes.string());
    }
    return versions;
}

bool version_at(std::string_view value, std::uint64_t entry, std::string_view& fields) {
    Bytes bytes(value);
    bool found = false;
    for (std::uint64_t left = bytes.varint(); left > 0; --left) {
        const std::uint64_t since = bytes.varint();
        const std::string_view candidate = bytes.text();
        if (since > entry) break;
        fields = candidate;
        found = true;
    }
    return found;
}

}  // namespace saggar
