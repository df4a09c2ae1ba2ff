// A folder of photographs: each becomes a source that can be cited, its bytes are kept with the graph.
//
// JPEG, PNG, GIF, WebP and TIFF files, in the folder and below it; symbolic links are not followed. A photograph is a
// source of type `photograph` with the fields `checksum` (SHA-512/256), `medium`, `dimensions` (pixels), `bytes`, `file`
// (its name in the folder) and, from EXIF, `captured`; NAME.txt beside NAME.jpg describes it (caption.h). Its key is
// `source:` and the slug of its name. Its date of issue is the day of its capture unless the side file gives one. Cost: two
// readings of each file; memory one picture's head.
#pragma once

#include <filesystem>

#include "importers/claim_rows.h"

namespace saggar {

struct ReadOptions;

// The folder's own name in problems is `name`.
void read_photographs(const std::filesystem::path& folder, const std::string& name, const ReadOptions& options,
                      const ReadContext& context, Sink& sink, Problems& problems);

}  // namespace saggar
