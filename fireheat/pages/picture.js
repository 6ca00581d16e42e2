// Stored pictures are drawn on white. On a dark page each is painted again, every color as its fellow
// of the dark theme and what lies between colors in between; paper keeps the stored one.

{
    const bytes = color => [1, 3, 5].map(at => parseInt(color.slice(at, at + 2), 16));
    const dark_of = colors => {
        const known = colors.map(pair => pair.map(bytes)), found = new Map();
        return shade => { // its three parts in one number
            if (found.has(shade)) return found.get(shade);
            const own = [shade & 255, shade >> 8 & 255, shade >> 16 & 255], sum = [0, 0, 0];
            let all = 0;
            for (const [light, dark] of known) {
                const far = light.reduce((far, part, n) => far + (part - own[n]) ** 2, 0), weight = 1 / (far * far + 1);
                dark.forEach((part, n) => { sum[n] += weight * part; });
                all += weight;
            }
            const [red, green, blue] = sum.map(part => Math.round(part / all));
            found.set(shade, red | green << 8 | blue << 16 | 255 << 24);
            return found.get(shade);
        };
    };
    const turns = Object.fromEntries(Object.entries(PICTURE_COLORS).map(([key, colors]) => [key, dark_of(colors)]));
    const paint = async picture => {
        await picture.decode();
        const { naturalWidth: width, naturalHeight: height, alt } = picture;
        const sheet = Object.assign(document.createElement("canvas"), { className: "in-dark", width, height });
        const pen = sheet.getContext("2d"), turn = turns[picture.closest("figure").dataset.colors ?? ""];
        pen.drawImage(picture, 0, 0);
        const image = pen.getImageData(0, 0, width, height), shades = new Uint32Array(image.data.buffer);
        shades.forEach((shade, n) => { shades[n] = turn(shade & 0xffffff); });
        pen.putImageData(image, 0, 0);
        sheet.setAttribute("role", "img");
        sheet.setAttribute("aria-label", alt);
        picture.classList.add("in-light");
        picture.after(sheet);
    };
    const dark = matchMedia("(prefers-color-scheme: dark)");
    const paint_all = async () => {
        if (!dark.matches) return;
        for (const picture of document.querySelectorAll("figure img:not(.in-light)")) await paint(picture);
    };
    dark.addEventListener("change", paint_all);
    paint_all();

    for (const figure of document.querySelectorAll("figure")) {
        const larger = Object.assign(document.createElement("button"), { type: "button", className: "larger", textContent: "Larger" });
        larger.setAttribute("aria-pressed", "false");
        larger.addEventListener("click", () => {
            larger.setAttribute("aria-pressed", String(figure.classList.toggle("large")));
            dispatchEvent(new Event("resize"));
        });
        figure.querySelector(".wide").after(larger);
    }
}
