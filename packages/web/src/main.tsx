import { render } from "preact";

const place = document.getElementById("page");
if (place) render(<h1>Brakeyard</h1>, place);
