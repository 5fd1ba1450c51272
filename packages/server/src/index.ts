export { reachableAddresses } from "./addresses.ts";
export { type AppOptions, buildApp } from "./app.ts";
export { type Served, type ServeOptions, serve } from "./serve.ts";
