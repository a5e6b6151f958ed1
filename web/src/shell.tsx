// Round every page: the house's name, three words to go by, and the way a page is opened.

import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Mark } from "./parts.js";

const ROUTES = ["recipe", "read", "get", "make", "mix", "bottle"] as const;
export type Route = (typeof ROUTES)[number];

const TITLE: Record<Route, string> = {
    recipe: "Recipe",
    read: "Your words, read as",
    get: "What will be in the bottle",
    make: "Make it",
    mix: "Mix",
    bottle: "Test my bottle",
};

export function routeOf(hash: string): Route {
    const name = hash.replace(/^#/, "");
    return ROUTES.find((r) => r === name) ?? "recipe";
}

export function go(route: Route): void {
    location.hash = route;
}

export function useRoute(): Route {
    const [route, setRoute] = useState(() => routeOf(location.hash));
    useEffect(() => {
        const heard = () => setRoute(routeOf(location.hash));
        addEventListener("hashchange", heard);
        return () => removeEventListener("hashchange", heard);
    }, []);
    return route;
}

function Tabs({ route, last }: { route: Route; last: Route }) {
    const isRecipe = route !== "mix" && route !== "bottle";
    const tab = (to: Route, words: string, isOpen: boolean) => (
        <li>
            <a href={`#${to}`} {...(isOpen ? { "aria-current": "page" as const } : {})}>
                {words}
            </a>
        </li>
    );
    return (
        <nav aria-label="Pages">
            <ul>
                {tab(isRecipe ? route : last, "Recipe", isRecipe)}
                {tab("mix", "Mix", route === "mix")}
                {tab("bottle", "My bottle", route === "bottle")}
            </ul>
        </nav>
    );
}

export function Shell({ route, title, children }: { route: Route; title: string; children: ComponentChildren }) {
    const page = useRef<HTMLElement>(null);
    const last = useRef<Route>("recipe");
    const isFirst = useRef(true);
    if (route !== "mix" && route !== "bottle") last.current = route;
    useEffect(() => {
        const about = title && (route === "get" || route === "make" || route === "read") ? `${title}: ` : "";
        document.title = `${about}${TITLE[route]} - Stillroom`;
        if (isFirst.current) {
            isFirst.current = false;
            return;
        }
        scrollTo(0, 0);
        page.current?.querySelector<HTMLElement>("h1")?.focus({ preventScroll: true });
    }, [route]);
    return (
        <>
            <a
                class="skip"
                href="#page"
                onClick={(e) => {
                    e.preventDefault();
                    page.current?.focus();
                }}
            >
                Skip to the page
            </a>
            <header>
                <p class="house">
                    <Mark /> Stillroom
                </p>
                <Tabs route={route} last={last.current} />
            </header>
            <main id="page" tabIndex={-1} ref={page}>
                {children}
            </main>
        </>
    );
}
