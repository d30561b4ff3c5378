/**
 * As much of Preact's types as pages need that are made into text. The package's own bring the browser's whole DOM with
 * them, and then `document` would compile in the core and in the server. Every attribute is checked where the tests are
 * compiled: there the package's own types hold.
 */
export interface VNode<Props = object> {
	readonly type: unknown;
	readonly props: Props;
}

type Attribute = string | number | boolean | null | undefined;

export declare namespace JSX {
	interface Element extends VNode {}
	interface IntrinsicAttributes {
		key?: string | number;
	}
	interface ElementChildrenAttribute {
		children: unknown;
	}
	interface IntrinsicElements {
		[element: string]: { [attribute: string]: Attribute | Children };
	}
}

type Children = JSX.Element | Attribute | readonly Children[];

export declare function jsx(type: unknown, props: object, key?: string): VNode;
export declare const jsxs: typeof jsx;
export declare const Fragment: (props: { readonly children?: Children }) => VNode;
