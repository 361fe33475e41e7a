// SPDX-License-Identifier: Apache-2.0
// Makes the page: node build.mjs SOURCE PACKAGES OUT. SOURCE is this folder, PACKAGES the one where `npm ci` ran (this file is
// copied there, so that its packages are found), OUT gets the files as they are served (hashed names, gzipped where that
// helps) and page_files.cpp, which embeds them.
import { build } from "esbuild";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, extname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync, constants } from "node:zlib";

const [here, packages, out] = process.argv.slice(2);
const modules = join(packages, "node_modules");
const types = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".woff2": "font/woff2",
};
const files = []; // { path, name, bytes, type, etag, gzip }

const hashOf = (bytes) => createHash("sha256").update(bytes).digest("hex");

// A file of the page. Its name carries its hash, so that browsers may keep it for good.
function add(name, bytes, path) {
  const content = Buffer.from(bytes);
  const hash = hashOf(content).slice(0, 16);
  const end = extname(name);
  const served = path ?? `/page/${basename(name, end)}-${hash}${end}`;
  const gzip = end !== ".woff2";
  const packed = gzip ? gzipSync(content, { level: constants.Z_BEST_COMPRESSION }) : content;
  files.push({ path: served, name: basename(served) || "index.html", bytes: packed, type: types[end], etag: `"${hash}"`, gzip });
  return served;
}

const scripts = ["400", "700"].flatMap((weight) => ["latin", "latin-ext", "greek", "cyrillic"].map((set) => ({ weight, set })));
const ranges = {
  latin: "U+0000-00FF, U+0131, U+0152-0153, U+02BB-02BC, U+02C6, U+02DA, U+02DC, U+2000-206F, U+20AC, U+2122, U+2190-2199, U+2212",
  "latin-ext": "U+0100-0130, U+0132-0151, U+0154-02BA, U+02BD-02C5, U+1E00-1E9F, U+1EF2-1EFF, U+2C60-2C7F, U+A720-A7FF",
  greek: "U+0370-03FF",
  cyrillic: "U+0400-045F, U+0490-0491, U+04B0-04B1, U+2116",
};
const fonts = scripts.map(({ weight, set }) => {
  const name = `noto-sans-${set}-${weight}-normal.woff2`;
  return { weight, set, ranges: ranges[set], url: add(name, readFileSync(join(modules, "@fontsource/noto-sans/files", name))) };
});

// The licence text of a package and of all it is made of.
const described = (name) => JSON.parse(readFileSync(join(modules, name, "package.json"), "utf8"));
function parts_of(names, seen = new Set()) {
  for (const name of names.filter((each) => !seen.has(each) && existsSync(join(modules, each, "package.json")))) {
    seen.add(name);
    parts_of(Object.keys(described(name).dependencies ?? {}), seen);
  }
  return [...seen].filter((name) => !name.startsWith("@types/"));
}
function licence(name) {
  const { version, license } = described(name);
  const text = readdirSync(join(modules, name)).find((file) => /^licen[cs]e/i.test(file));
  return `${name} ${version}, ${license}\n\n${text ? readFileSync(join(modules, name, text), "utf8").trim() : "(no text in the package)"}\n`;
}
const embedded_packages = Object.keys(JSON.parse(readFileSync(join(here, "package.json"), "utf8")).dependencies);
const licences = add("licences.txt", parts_of(embedded_packages).map(licence).join(`\n${"-".repeat(78)}\n\n`));

const common = { bundle: true, minify: true, format: "esm", target: "es2022", legalComments: "inline", nodePaths: [modules], write: false, logLevel: "warning" };
const bundled = async (options) => (await build({ ...common, ...options })).outputFiles[0].contents;

const worker = add("map-worker.js", await bundled({ entryPoints: [join(modules, "maplibre-gl/dist/maplibre-gl-worker.mjs")] }));
// The map is a file of its own: browsers without WebGL2 never ask for it.
const map = add("map.js", await bundled({ stdin: { contents: 'export * from "maplibre-gl";', resolveDir: here } }));
const assets = JSON.stringify({ map, worker, licences, fonts });
const script = add("page.js", await bundled({ entryPoints: [join(here, "src/main.js")], define: { LOAMWAY_ASSETS: assets } }));

const faces = fonts.map((f) => `@font-face{font-family:"Page";font-weight:${f.weight};font-display:swap;src:url(${f.url}) format("woff2");unicode-range:${f.ranges}}`);
const mapStyles = readFileSync(join(modules, "maplibre-gl/dist/maplibre-gl.css"), "utf8");
const styles = await bundled({ stdin: { contents: `${faces.join("\n")}\n${mapStyles}\n${readFileSync(join(here, "src/styles.css"), "utf8")}`, loader: "css", resolveDir: here }, external: ["/page/*"] });
const style = add("page.css", styles);
const icon = add("icon.svg", readFileSync(join(here, "src/icon.svg")));
const { texts } = await import(pathToFileURL(join(here, "src/texts.js")));
const html = readFileSync(join(here, "src/index.html"), "utf8").replace("{style}", style).replace("{script}", script).replace("{icon}", icon).replace("{noscript}", texts.needs_script);
add("index.html", html, "/");

rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });
for (const file of files) writeFileSync(join(out, file.name), file.bytes);
writeFileSync(join(out, "page_files.cpp"), embedded());

// Assembler takes the bytes as they are: no compiler has to read a megabyte of numbers.
function embedded() {
  const quoted = (text) => JSON.stringify(text);
  const blocks = files.map((file, i) => `.global loamway_page_${i}
loamway_page_${i}:
.incbin ${quoted(join(out, file.name))}
.global loamway_page_end_${i}
loamway_page_end_${i}:
.byte 0
`);
  const declared = files.map((_, i) => `extern const char loamway_page_${i}[];\nextern const char loamway_page_end_${i}[];`);
  const rows = files.map((f, i) => `        {${quoted(f.path)}, {loamway_page_${i}, static_cast<std::size_t>(loamway_page_end_${i} - loamway_page_${i})}, ${quoted(f.type)}, ${quoted(f.etag)}, ${f.gzip}},`);
  return `// Made by src/web/page/build.mjs.
#include "page_files.h"

#include <array>
#include <cstddef>

__asm__(R"(.pushsection .rodata
${blocks.join("")}.popsection
)");

extern "C" {
${declared.join("\n")}
}

namespace loamway {

const PageFile* find_page_file(std::string_view path) {
    static const std::array<PageFile, ${files.length}> files{{
${rows.join("\n")}
    }};
    for (const PageFile& file : files) {
        if (file.path == path) {
            return &file;
        }
    }
    return nullptr;
}

} // namespace loamway
`;
}
