// The photographs of a graph, kept by content: DIR/media/HASH, HASH being SHA-512/256 in hexadecimal.
//
// Which source shows which picture is said by the source's field `checksum`. A picture is written before the records
// that name it and never altered; one that no record names does no harm.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "kg/store/store.h"

namespace saggar {

// The name of the field of a source, and how its value begins: "sha-512/256:".
inline constexpr std::string_view checksum_field = "checksum";
inline constexpr std::string_view checksum_start = "sha-512/256:";

// The hash that a source's checksum names; empty where it has none of this form.
std::string media_hash(const Source& source);

// Copies `file` into the folder under its hash: to a new file, synced, then renamed, so that a reader or a crash never
// leaves half a picture. Nothing is copied where the picture is there already. True where it was copied.
// UsageFault where the file's bytes do not have this hash (any more); StoreFault where it cannot be written.
bool keep_media(const std::filesystem::path& graph_folder, const std::filesystem::path& file, const std::string& hash);

std::filesystem::path media_path(const std::filesystem::path& graph_folder, const std::string& hash);

enum class MediaState : std::uint8_t { whole, missing, altered };

// Reads the whole picture.
MediaState media_state(const std::filesystem::path& graph_folder, const std::string& hash);

}  // namespace saggar
